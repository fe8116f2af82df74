/** Several files that appear whole: all are written out under other names before the first rename. */
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import { isSystemError } from '@/lib/server/samples/durable-files';

/**
 * Makes a folder and those above it, one after the other: on some file systems (`/proc`) the
 * recursive form tries for ever.
 */
async function makeFolder(folder: string): Promise<void> {
  const missing: string[] = [];
  for (let place = folder; ; place = path.dirname(place)) {
    try {
      await stat(place);
      break;
    } catch (error) {
      if (!isSystemError(error, ['ENOENT']) || path.dirname(place) === place) throw error;
      missing.unshift(place);
    }
  }
  for (const place of missing) await mkdir(place);
  if (!(await stat(folder)).isDirectory()) throw new Error('it is not a folder');
}

/** @param files content by name, inside `folder`, which is made if it is not there */
export async function writeTogether(
  folder: string,
  files: ReadonlyMap<string, string>,
): Promise<void> {
  await makeFolder(folder);
  const written: { from: string; to: string }[] = [];
  try {
    for (const [name, content] of files) {
      const to = path.join(folder, name);
      const there = await stat(to).catch(() => null);
      if (there !== null && !there.isFile()) throw new Error(`${name} is there and is no file`);
      const from = path.join(folder, `.${name}.${process.pid}.part`);
      const handle = await open(from, 'w');
      written.push({ from, to });
      try {
        await handle.writeFile(content);
        await handle.sync();
      } finally {
        await handle.close();
      }
    }
    for (const { from, to } of written) await rename(from, to);
  } finally {
    for (const { from } of written) await rm(from, { force: true });
  }
}
