/** The files of a session folder that one source is made of: names, and patterns such as `tm-*.csv`. */

import { readdir } from 'node:fs/promises';
import path from 'node:path';
import type { Issue } from '@/lib/core/result';
import { isPattern } from '@/lib/core/session/file-pattern';
import { naturalOrder } from '@/lib/core/session/natural-order';
import { patternMatcher } from '@/lib/core/session/runs-about';
import { findFile } from './folder-file';
import { isSystemError } from './samples/durable-files';
import type { SourcePart } from './samples/unpack-source';

/** A pattern may name this many files that make one source. */
const MOST_FILES = 500;
/** A pattern may name this many simulator runs. */
export const MOST_RUNS = 10_000;

async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    const entries = await readdir(folder, { withFileTypes: true });
    return entries.filter((entry) => entry.isFile()).map((entry) => entry.name);
  } catch (error) {
    if (isSystemError(error, ['ENOENT', 'ENOTDIR', 'EACCES'])) return [];
    throw error;
  }
}

/** Names that a pattern stands for, in the order of their letters and numbers; folders have no signs of one. */
async function expand(folder: string, pattern: string): Promise<readonly string[]> {
  const cut = pattern.lastIndexOf('/') + 1;
  const within = pattern.slice(0, cut);
  if (isPattern(within)) return [];
  const matches = patternMatcher(pattern.slice(cut));
  const names = await namesIn(path.join(folder, within));
  return names
    .filter((name) => matches.test(name))
    .sort(naturalOrder)
    .map((name) => `${within}${name}`);
}

function patternIssue(pattern: string, count: number, most: number): Issue {
  const message =
    count === 0
      ? 'no file of the session folder fits this pattern'
      : `${count} files fit this pattern; at most ${most} are read together`;
  return { code: 'file-missing', severity: 'error', file: pattern, message, expected: pattern };
}

/**
 * Finds the files of a source inside the folder.
 *
 * @param names as written in session.yaml
 * @param most how many files one pattern may name
 * @returns each file once; issues for names and patterns that lead to none
 */
export async function findSourceFiles(
  folder: string,
  names: readonly string[],
  most = MOST_FILES,
): Promise<Readonly<{ parts: readonly SourcePart[]; issues: readonly Issue[] }>> {
  const issues: Issue[] = [];
  const parts = new Map<string, SourcePart>();
  for (const name of names) {
    const files = isPattern(name) ? await expand(folder, name) : [name];
    if (files.length === 0 || files.length > most) {
      issues.push(patternIssue(name, files.length, most));
      continue;
    }
    for (const file of files) {
      const found = await findFile(folder, file);
      if (found.value === null) issues.push(found.issue);
      else parts.set(file, { name: file, file: found.value.path });
    }
  }
  return { parts: [...parts.values()], issues };
}
