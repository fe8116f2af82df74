/** Files of a session folder, taken by name without ever leaving the folder. */
import { constants, type Stats } from 'node:fs';
import { access, lstat } from 'node:fs/promises';
import path from 'node:path';
import type { Issue } from '@/lib/core/result';
import { isSystemError } from './samples/durable-files';

export type FolderFile = Readonly<{ name: string; sha256: string; bytes: number }>;

export type FoundFile = Readonly<{ path: string; bytes: number }>;

/** The value, or the issue that says why there is none. */
export type Found<T> =
  | Readonly<{ value: T; issue: null }>
  | Readonly<{ value: null; issue: Issue }>;

/** No value, and one error of a file. */
export function fail(file: string, code: string, message: string, expected: string): Found<never> {
  return { value: null, issue: { code, severity: 'error', file, message, expected } };
}

async function statOf(target: string): Promise<Stats | null> {
  try {
    return await lstat(target);
  } catch (error) {
    if (isSystemError(error, ['ENOENT', 'ENOTDIR', 'ENAMETOOLONG', 'EACCES'])) return null;
    throw error;
  }
}

async function canRead(place: string): Promise<boolean> {
  try {
    await access(place, constants.R_OK);
    return true;
  } catch {
    // Whatever the reason, it cannot be read.
    return false;
  }
}

/**
 * Looks a file up.
 *
 * @param name as written in session.yaml: relative, with `/`
 */
export async function findFile(folder: string, name: string): Promise<Found<FoundFile>> {
  const parts = name.split('/');
  const leaves =
    path.isAbsolute(name) ||
    /^[A-Za-z]:|[\\\u0000]/.test(name) ||
    parts.some((part) => part === '' || part === '.' || part === '..');
  if (leaves) {
    return fail(
      name,
      'file-outside-folder',
      'the name leads out of the session folder; expected a path inside it',
      'a relative path with / between its parts, without ..',
    );
  }
  let place = folder;
  for (const [index, part] of parts.entries()) {
    place = path.join(place, part);
    const found = await statOf(place);
    const isLast = index === parts.length - 1;
    if (found === null) {
      return fail(name, 'file-missing', 'there is no such file in the session folder', name);
    }
    if (found.isSymbolicLink()) {
      return fail(
        name,
        'file-is-link',
        'is a symbolic link; links are not followed, put the file itself there',
        'a file',
      );
    }
    if (isLast && !found.isFile()) {
      return fail(name, 'not-a-file', 'is not a file', 'a file');
    }
    if (isLast && !(await canRead(place))) {
      return fail(name, 'file-not-readable', 'cannot be opened for reading', 'a readable file');
    }
    if (isLast) return { value: { path: place, bytes: found.size }, issue: null };
  }
  return fail(name, 'file-missing', 'there is no such file in the session folder', name);
}
