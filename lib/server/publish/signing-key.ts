/**
 * The installation's key: made when it is first needed, kept in DATA_DIR for its owner alone. The
 * manifest of each publication is signed with it.
 *
 * Source: RFC 8032 (Ed25519); RFC 8410 (its PKCS #8 and SubjectPublicKeyInfo forms).
 */
import {
  createHash,
  createPrivateKey,
  createPublicKey,
  generateKeyPairSync,
  type KeyObject,
  sign,
} from 'node:crypto';
import { link, open, readdir, readFile, rm } from 'node:fs/promises';
import path from 'node:path';
import type { Signer } from '@/lib/core/debrief/record';
import { syncToDisk } from '../durable-files';
import { env } from '../env';
import { newId } from '../new-id';
import { isSystemError } from '../samples/durable-files';

const KEY_NAME = 'signing-key.pem';
const OWNER_ONLY = 0o600;

/** The key's file is there, and no key can be read out of it. It is never replaced by itself. */
export class UnusableKey extends Error {}

async function readKey(file: string): Promise<KeyObject | null> {
  try {
    const key = createPrivateKey(await readFile(file, 'utf8'));
    if (key.asymmetricKeyType === 'ed25519') return key;
  } catch (error) {
    if (isSystemError(error, ['ENOENT'])) return null;
    throw new UnusableKey(String(error), { cause: error });
  }
  throw new UnusableKey('it is a key of another kind');
}

/** Halves of keys that a crash left: no key is being made, since this process alone has the folder. */
async function removeHalves(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    if (name.startsWith(`${KEY_NAME}.tmp-`)) await rm(path.join(folder, name), { force: true });
  }
}

/** Written whole beside its place and then linked to it: a key that is there is never replaced. */
async function makeKey(file: string): Promise<void> {
  await removeHalves(path.dirname(file));
  const { privateKey } = generateKeyPairSync('ed25519');
  const temporary = `${file}.tmp-${newId()}`;
  const handle = await open(temporary, 'wx', OWNER_ONLY);
  try {
    await handle.writeFile(privateKey.export({ type: 'pkcs8', format: 'pem' }));
    await handle.sync();
  } finally {
    await handle.close();
  }
  try {
    await link(temporary, file);
    await syncToDisk(path.dirname(file));
  } catch (error) {
    if (!isSystemError(error, ['EEXIST'])) throw error;
  } finally {
    await rm(temporary, { force: true });
  }
}

let making: Promise<void> | null = null;

async function privateKey(): Promise<KeyObject> {
  const file = path.join(env().dataDir, KEY_NAME);
  const there = await readKey(file);
  if (there !== null) return there;
  making ??= makeKey(file).finally(() => {
    making = null;
  });
  await making;
  return createPrivateKey(await readFile(file, 'utf8'));
}

/** The public half of the installation's key, as a record names it. @throws UnusableKey */
export async function loadSigner(): Promise<Signer> {
  const key = createPublicKey(await privateKey());
  const der = key.export({ type: 'spki', format: 'der' });
  return {
    algorithm: 'Ed25519',
    keySha256: createHash('sha256').update(der).digest('hex'),
    publicKeyPem: key.export({ type: 'spki', format: 'pem' }).toString(),
  };
}

/** The signature of some bytes: 64 bytes. */
export async function signBytes(bytes: Uint8Array): Promise<Buffer> {
  return sign(null, bytes, await privateKey());
}
