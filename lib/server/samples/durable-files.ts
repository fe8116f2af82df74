/** Files that are on the disk when a function here returns, and their hashes. */
import { createHash } from 'node:crypto';
import { constants } from 'node:fs';
import { copyFile, link, open, stat } from 'node:fs/promises';
import { readBlocks } from './read-blocks';

/** Makes the file system write out a file or a folder (its names). */
export async function syncPath(target: string): Promise<void> {
  const handle = await open(target, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** SHA-256 and size of a file as it stands. */
export async function hashFile(file: string): Promise<Readonly<{ sha256: string; bytes: number }>> {
  const hash = createHash('sha256');
  let bytes = 0;
  for await (const block of await readBlocks(file, { mostBytes: 4 << 20 })) {
    hash.update(block);
    bytes += block.length;
  }
  return { sha256: hash.digest('hex'), bytes };
}

/** Writes text and syncs it. */
export async function writeDurably(file: string, text: string): Promise<void> {
  const handle = await open(file, 'wx');
  try {
    await handle.writeFile(text);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Puts a file under a second name: a hard link where asked and possible, else a copy. */
export async function keepFile(
  source: string,
  target: string,
  how: 'copy' | 'link',
): Promise<void> {
  if (how === 'link') {
    try {
      await link(source, target);
      return;
    } catch (error) {
      // Another file system, or one without links: copy instead.
      if (!isSystemError(error, ['EXDEV', 'EPERM', 'ENOTSUP', 'EMLINK'])) throw error;
    }
  }
  await copyFile(source, target, constants.COPYFILE_FICLONE | constants.COPYFILE_EXCL);
}

/** True for an error of the operating system with one of these codes. */
export function isSystemError(error: unknown, codes: readonly string[]): boolean {
  return (
    error instanceof Error &&
    'code' in error &&
    typeof error.code === 'string' &&
    codes.includes(error.code)
  );
}

/** True when something stands at the path. */
export async function pathExists(target: string): Promise<boolean> {
  try {
    await stat(target);
    return true;
  } catch (error) {
    if (isSystemError(error, ['ENOENT', 'ENOTDIR'])) return false;
    throw error;
  }
}
