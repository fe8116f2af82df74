/** Several files that appear whole: all are written out under other names before the first rename. */
import { mkdir, open, rename, rm } from 'node:fs/promises';
import path from 'node:path';

/** @param files content by name, inside `folder`, which is made if it is not there */
export async function writeTogether(
  folder: string,
  files: ReadonlyMap<string, string>,
): Promise<void> {
  await mkdir(folder, { recursive: true });
  const written: { from: string; to: string }[] = [];
  try {
    for (const [name, content] of files) {
      const from = path.join(folder, `.${name}.${process.pid}.part`);
      const handle = await open(from, 'w');
      written.push({ from, to: path.join(folder, name) });
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
