/** A publication's manifest: its signature, and each file that lies beside it. */
import { createHash, createPublicKey, verify } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { readManifest } from '@/lib/core/debrief/package/manifest';
import { plainLine } from '@/lib/core/result';
import { hashFile } from '@/lib/server/samples/durable-files';

const DIFFERS = 1;
const BAD_INPUT = 2;

async function bytesAt(file: string): Promise<Buffer | null> {
  try {
    return await readFile(file);
  } catch {
    return null; // told by the caller: what cannot be read is not there
  }
}

async function hashAt(file: string): Promise<string | null> {
  try {
    return (await hashFile(file)).sha256;
  } catch {
    return null; // as above
  }
}

function isSigned(text: Buffer, signature: Buffer, pem: Buffer): boolean {
  try {
    return verify(null, text, createPublicKey(pem), signature);
  } catch {
    return false; // no key, or none of this kind
  }
}

/**
 * Checks a manifest and prints what it found.
 *
 * @param file the manifest; signature and key lie beside it
 * @param shown how it was named
 * @returns 0 when all agrees, 1 when something differs, 2 when it cannot be used
 */
export async function verifyManifest(file: string, shown: string): Promise<number> {
  const text = await bytesAt(file);
  const entries = text === null ? null : readManifest(text.toString('utf8'));
  const keyName = entries?.find(({ name }) => /^signing-key.*\.pem$/.test(name))?.name;
  if (text === null || entries === null || keyName === undefined) {
    console.error(plainLine(`${shown}: no manifest of a published debrief`));
    return BAD_INPUT;
  }
  const folder = path.dirname(file);
  const signature = await bytesAt(file.replace(/\.sha256$/, '.sig'));
  const pem = await bytesAt(path.join(folder, keyName));
  if (signature === null || pem === null) {
    const lacking = signature === null ? 'its signature (.sig)' : `the key ${keyName}`;
    console.error(
      plainLine(
        `${shown}: ${lacking} does not lie beside it; the page of the publication offers it to download`,
      ),
    );
    return BAD_INPUT;
  }
  const signed = isSigned(text, signature, pem);
  console.log(
    `signature: ${signed ? 'good' : 'DIFFERS, this manifest was not signed with that key'}`,
  );
  let ends = signed ? 0 : DIFFERS;
  for (const { name, sha256 } of entries) {
    const found = name === path.basename(name) ? await hashAt(path.join(folder, name)) : null;
    const state = found === null ? 'not here' : found === sha256 ? 'as published' : 'DIFFERS';
    if (state === 'DIFFERS') ends = DIFFERS;
    console.log(plainLine(`${name}: ${state}`));
  }
  const der = signed ? createPublicKey(pem).export({ type: 'spki', format: 'der' }) : null;
  if (der !== null) {
    const keySha256 = createHash('sha256').update(der).digest('hex');
    console.log(`SHA-256 of the key: ${keySha256}; compare it with the publisher\u2019s own.`);
  }
  return ends;
}
