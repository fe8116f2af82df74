/** Writing so that what is said to be there is there after a power cut. */
import { open, readdir, rename, statfs } from 'node:fs/promises';
import path from 'node:path';

/** Flushes a file or a folder (its list of names) to the disk. */
export async function syncToDisk(target: string): Promise<void> {
  const handle = await open(target, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Flushes every file and folder under `folder`, the folder itself last. */
export async function syncTree(folder: string): Promise<void> {
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const full = path.join(folder, entry.name);
    if (entry.isDirectory()) await syncTree(full);
    else if (entry.isFile()) await syncToDisk(full);
  }
  await syncToDisk(folder);
}

/** Renames and makes the new name durable. Both must lie on one disk. */
export async function renameDurably(from: string, to: string): Promise<void> {
  await rename(from, to);
  await syncToDisk(path.dirname(to));
}

/** Paths of all files under `folder`, relative to it, with forward slashes, sorted. */
export async function listFiles(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true, recursive: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)))
    .map((name) => name.split(path.sep).join('/'))
    .sort();
}

/** Bytes that may still be written to the disk on which `folder` lies. */
export async function freeDiskBytes(folder: string): Promise<number> {
  const disk = await statfs(folder);
  return disk.bavail * disk.bsize;
}
