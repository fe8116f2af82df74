/** Files of a session folder, taken by name without ever leaving the folder. */
import { createHash } from 'node:crypto';
import { constants, type Stats } from 'node:fs';
import { lstat, open } from 'node:fs/promises';
import path from 'node:path';
import type { Issue } from '@/lib/core/result';
import { isSystemError } from './samples/durable-files';

export type FolderFile = Readonly<{ name: string; sha256: string; bytes: number }>;

export type FoundFile = Readonly<{ path: string; bytes: number }>;

export type FolderText = Readonly<{ file: FolderFile; text: string }>;

/** The value, or the issue that says why there is none. */
export type Found<T> =
  | Readonly<{ value: T; issue: null }>
  | Readonly<{ value: null; issue: Issue }>;

function fail(file: string, code: string, message: string, expected: string): Found<never> {
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
    if (isLast) return { value: { path: place, bytes: found.size }, issue: null };
  }
  return fail(name, 'file-missing', 'there is no such file in the session folder', name);
}

/** Reads a text file whole, up to a size. The bytes are hashed as they stand. */
export async function readText(
  folder: string,
  name: string,
  mostBytes: number,
): Promise<Found<FolderText>> {
  const found = await findFile(folder, name);
  if (found.value === null) return found;
  if (found.value.bytes > mostBytes) {
    return fail(
      name,
      'file-too-large',
      `has ${found.value.bytes} bytes; at most ${mostBytes} are read`,
      `at most ${mostBytes} bytes`,
    );
  }
  let handle: Awaited<ReturnType<typeof open>>;
  try {
    handle = await open(found.value.path, constants.O_RDONLY | constants.O_NOFOLLOW);
  } catch (error) {
    if (!isSystemError(error, ['EACCES', 'EPERM', 'ELOOP', 'ENOENT'])) throw error;
    return fail(name, 'file-not-readable', 'cannot be opened for reading', 'a readable file');
  }
  try {
    const bytes = await handle.readFile();
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    const text = decode(bytes);
    if (text === null) {
      return fail(name, 'not-text', 'is neither UTF-8 nor UTF-16 text', 'UTF-8 text');
    }
    return { value: { file: { name, sha256, bytes: bytes.length }, text }, issue: null };
  } finally {
    await handle.close();
  }
}

function decode(bytes: Buffer): string | null {
  const mark = bytes.subarray(0, 2).toString('hex');
  const label = mark === 'fffe' ? 'utf-16le' : mark === 'feff' ? 'utf-16be' : 'utf-8';
  try {
    return new TextDecoder(label, { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}

/** Hash and size of a file of any size. */
export async function describeFile(folder: string, name: string): Promise<Found<FolderFile>> {
  const found = await findFile(folder, name);
  if (found.value === null) return found;
  const hash = createHash('sha256');
  let bytes = 0;
  const handle = await open(found.value.path, constants.O_RDONLY | constants.O_NOFOLLOW);
  for await (const block of handle.createReadStream({ highWaterMark: 1 << 20 })) {
    hash.update(block);
    bytes += block.length;
  }
  return { value: { name, sha256: hash.digest('hex'), bytes }, issue: null };
}
