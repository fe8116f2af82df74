/** Files of a session folder, taken by name without ever leaving the folder. */
import { createHash } from 'node:crypto';
import { constants, type Stats } from 'node:fs';
import { access, lstat, open } from 'node:fs/promises';
import path from 'node:path';
import { BINARY, fileSignature, SIGNATURE_BYTES } from '@/lib/core/intake/file-signature';
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

/**
 * Reads a text file whole, up to a size. The bytes are hashed as they stand.
 *
 * @param read.encoding as stated; null for UTF-8, or UTF-16 with a byte order mark
 */
export async function readText(
  folder: string,
  name: string,
  { mostBytes, encoding }: Readonly<{ mostBytes: number; encoding: string | null }>,
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
    const kind = fileSignature(bytes.subarray(0, SIGNATURE_BYTES).toString('latin1'));
    if (kind !== null && !MESSAGE_KINDS.includes(kind)) {
      return fail(name, 'not-text', `must be text, found ${kind}`, 'UTF-8 text');
    }
    const { text, line } = decode(bytes, encoding);
    if (text === null) {
      const wanted = encoding ?? 'UTF-8 or UTF-16';
      const message = `line ${line} is no ${wanted} text; save the file as UTF-8, or state the encoding of a source`;
      return fail(name, 'not-text', message, `${wanted} text`);
    }
    if (text.slice(0, 4096).includes('\u0000')) {
      return fail(name, 'not-text', `must be text, found ${BINARY}`, 'UTF-8 text');
    }
    return { value: { file: { name, sha256, bytes: bytes.length }, text }, issue: null };
  } finally {
    await handle.close();
  }
}

/** Text that starts like these is read by a format of its own, or is told apart by its reader. */
const MESSAGE_KINDS: readonly string[] = ['a CCSDS message', 'XML'];

type Decoded = Readonly<{ text: string; line: null } | { text: null; line: number }>;

/** The text, or the line of the first byte that is none. */
function decode(bytes: Buffer, stated: string | null): Decoded {
  const mark = bytes.subarray(0, 2).toString('hex');
  const found = mark === 'fffe' ? 'utf-16le' : mark === 'feff' ? 'utf-16be' : 'utf-8';
  // The mark at the start tells the order of bytes that `utf-16` leaves open.
  const label = stated === null || stated === 'utf-16' ? found : stated;
  try {
    return { text: new TextDecoder(label, { fatal: true }).decode(bytes), line: null };
  } catch {
    const upTo = new TextDecoder(label).decode(bytes).split('\uFFFD', 1)[0] ?? '';
    return { text: null, line: upTo.split('\n').length };
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
