/** A publication's files: written beside, flushed, and only then given their name. */
import { createHash } from 'node:crypto';
import { open, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import { manifestText, savedEntries } from '@/lib/core/debrief/package/manifest';
import {
  KEY_FILE,
  MANIFEST_FILE,
  type PublishedPlace,
  SIGNATURE_FILE,
} from '@/lib/core/debrief/package/published-name';
import type { Signer } from '@/lib/core/debrief/record';
import { type CrashPointName, crashPoint } from '../crash-point';
import { publishedRoot } from '../data-folders';
import { syncToDisk } from '../durable-files';
import { newId } from '../new-id';
import { hashFile } from '../samples/durable-files';
import { signBytes } from './signing-key';

export type WrittenFile = Readonly<{
  name: string;
  mediaType: string;
  sha256: string;
  bytes: number;
}>;

/** A folder that nothing refers to yet. */
export type UnnamedFolder = Readonly<{ folder: string; files: readonly WrittenFile[] }>;

type NewFile = Readonly<{ name: string; mediaType: string; content: string | Uint8Array }>;

/** A path that nothing lies at, under a name that start-up sweeps away. */
export function unnamedPath(): string {
  return path.join(publishedRoot(), `.tmp-${newId()}`);
}

/** Writes one file and flushes it. */
export async function writeDurably(
  folder: string,
  { name, mediaType, content }: NewFile,
  after: CrashPointName | null = null,
): Promise<WrittenFile> {
  const bytes = typeof content === 'string' ? Buffer.from(content, 'utf8') : content;
  const handle = await open(path.join(folder, name), 'wx');
  try {
    await handle.writeFile(bytes);
    await handle.sync();
  } finally {
    await handle.close();
  }
  if (after !== null) crashPoint(after);
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return { name, mediaType, sha256, bytes: bytes.length };
}

/** Flushes a file that was written already, however large. */
export async function keepWritten(
  folder: string,
  file: Readonly<{ name: string; mediaType: string }>,
  after: CrashPointName,
): Promise<WrittenFile> {
  const place = path.join(folder, file.name);
  await syncToDisk(place);
  crashPoint(after);
  return { ...file, ...(await hashFile(place)) };
}

/** Adds the manifest of all files, its signature and the key, and flushes the folder. */
export async function signFolder(
  folder: string,
  files: readonly WrittenFile[],
  by: Readonly<{ place: PublishedPlace; signer: Signer }>,
): Promise<UnnamedFolder> {
  const { place, signer } = by;
  const pem = { mediaType: 'application/x-pem-file', content: signer.publicKeyPem };
  const key = await writeDurably(folder, { name: KEY_FILE, ...pem });
  const text = manifestText(savedEntries([...files, key], place));
  const signature = await signBytes(Buffer.from(text));
  const manifest = { name: MANIFEST_FILE, mediaType: 'text/plain; charset=utf-8', content: text };
  const signed = {
    name: SIGNATURE_FILE,
    mediaType: 'application/octet-stream',
    content: signature,
  };
  const more = [
    key,
    await writeDurably(folder, manifest, 'publish:manifest-synced'),
    await writeDurably(folder, signed, 'publish:signature-synced'),
  ];
  await syncToDisk(folder);
  crashPoint('publish:folder-synced');
  return { folder, files: [...files, ...more] };
}

/**
 * Gives the folder its name. Called inside the transaction that has made sure that no row has the
 * name: a folder that has it without one was left by a crash.
 */
export async function nameFolder({ folder }: UnnamedFolder, name: string): Promise<void> {
  const target = path.join(publishedRoot(), name);
  await rm(target, { recursive: true, force: true });
  await rename(folder, target);
  crashPoint('publish:renamed');
  await syncToDisk(publishedRoot());
  crashPoint('publish:root-synced');
}

/** Takes back what was written for a publication that did not come about. */
export async function removeUnnamed(folder: string): Promise<void> {
  await rm(folder, { recursive: true, force: true });
}
