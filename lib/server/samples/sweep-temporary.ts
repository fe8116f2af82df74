import { readdir, rm } from 'node:fs/promises';
import path from 'node:path';
import { isSystemError, syncPath } from './durable-files';
import { TEMPORARY_PREFIX } from './seal-folder';

/**
 * Removes what an interrupted import left behind. For start-up, before any import runs.
 *
 * @returns the names of what was removed
 */
export async function sweepTemporary(samplesRoot: string): Promise<readonly string[]> {
  let names: string[];
  try {
    names = await readdir(samplesRoot);
  } catch (error) {
    if (isSystemError(error, ['ENOENT'])) return [];
    throw error;
  }
  const left = names.filter((name) => name.startsWith(TEMPORARY_PREFIX)).sort();
  for (const name of left) await rm(path.join(samplesRoot, name), { recursive: true, force: true });
  if (left.length > 0) await syncPath(samplesRoot);
  return left;
}
