/** A finished folder: everything on the disk, hashed, listed, and put in its place by one rename. */
import { randomBytes } from 'node:crypto';
import { mkdir, readdir, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import { type CrashPointName, crashPoint } from '../crash-point';
import { hashFile, isSystemError, syncPath, writeDurably } from './durable-files';
import { manifestSchema, type SampleFile, type SampleManifest } from './sample-manifest';

export const MANIFEST_FILE = 'manifest.json';
export const DATA_FILE = 'data.parquet';
export const REJECTS_FILE = 'rejects.parquet';
export const TEMPORARY_PREFIX = '.tmp-';

/** A new temporary folder inside the samples root, so that the last rename stays on one disk. */
export async function makeTemporaryFolder(samplesRoot: string): Promise<string> {
  const name = `${TEMPORARY_PREFIX}${process.pid}-${randomBytes(6).toString('hex')}`;
  const folder = path.join(samplesRoot, name);
  await mkdir(path.join(folder, 'lod'), { recursive: true });
  return folder;
}

/** Syncs a file of the folder and returns its entry for the manifest. */
export async function sealFile(
  folder: string,
  name: string,
  after: CrashPointName,
): Promise<SampleFile> {
  const file = path.join(folder, name);
  const { sha256, bytes } = await hashFile(file);
  await syncPath(file);
  crashPoint(after);
  return { name, bytes, sha256 };
}

/**
 * Writes the manifest last, syncs the folder and renames it into place.
 *
 * @returns `there` when a folder of that name was made meanwhile; the temporary one is removed
 */
export async function sealFolder(
  temporary: string,
  target: string,
  manifest: SampleManifest,
): Promise<'renamed' | 'there'> {
  const text = `${JSON.stringify(manifestSchema.parse(manifest), null, 1)}\n`;
  await writeDurably(path.join(temporary, MANIFEST_FILE), text);
  crashPoint('samples:manifest-written');
  for (const entry of await readdir(temporary, { withFileTypes: true })) {
    if (entry.isDirectory()) await syncPath(path.join(temporary, entry.name));
  }
  await syncPath(temporary);
  crashPoint('samples:folder-synced');
  try {
    await rename(temporary, target);
  } catch (error) {
    if (!isSystemError(error, ['ENOTEMPTY', 'EEXIST'])) throw error;
    await rm(temporary, { recursive: true, force: true });
    return 'there';
  }
  crashPoint('samples:renamed');
  await syncPath(path.dirname(target));
  crashPoint('samples:root-synced');
  return 'renamed';
}
