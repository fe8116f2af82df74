/** A text file of a session folder, read whole up to a size, packed with gzip or not. */
import { createHash } from 'node:crypto';
import { constants } from 'node:fs';
import { open } from 'node:fs/promises';
import { gunzipSync } from 'node:zlib';
import { BINARY, findSignature, SIGNATURE_BYTES } from '@/lib/core/intake/file-signature';
import type { Issue } from '@/lib/core/result';
import { type FolderFile, type Found, fail, findFile } from './folder-file';
import { chooseEncoding } from './samples/choose-encoding';
import { isSystemError } from './samples/durable-files';
import { encodingOfHead } from './samples/source-scan';
import { brokenIssue, mostUnpackedBytes, tooLargeIssue } from './samples/unpack-gzip';

/** `issues` are warnings about how the text was read. */
export type FolderText = Readonly<{ file: FolderFile; text: string; issues: readonly Issue[] }>;

/** What a text may be: how large, and in which encoding it is. */
export type TextWish = Readonly<{
  mostBytes: number;
  /** As stated; null for UTF-8, or UTF-16 that shows itself. */
  encoding: string | null;
  /** What bytes are read as that are none of these: refused, or taken as Windows-1252 and said so. */
  otherwise: 'refuse' | 'assume';
}>;

/** Text that starts like these is read by a format of its own, or is told apart by its reader. */
const MESSAGE_KINDS: readonly string[] = ['a CCSDS message', 'XML'];

function tooLarge(name: string, bytes: number, mostBytes: number): Found<never> {
  const message = `has ${bytes} bytes; at most ${mostBytes} are read`;
  return fail(name, 'file-too-large', message, `at most ${mostBytes} bytes`);
}

/** The bytes of a packed text; the bound is the smaller of the text's and the archive's. */
function unpack(name: string, packed: Buffer, mostBytes: number): Found<Buffer> {
  if (packed[0] !== 0x1f || packed[1] !== 0x8b) return { value: packed, issue: null };
  const bound = Math.min(mostBytes, mostUnpackedBytes(packed.length));
  try {
    return { value: gunzipSync(packed, { maxOutputLength: bound }), issue: null };
  } catch (error) {
    if (isSystemError(error, ['ERR_BUFFER_TOO_LARGE'])) {
      return { value: null, issue: tooLargeIssue(name, bound) };
    }
    if (isSystemError(error, ['Z_DATA_ERROR', 'Z_BUF_ERROR'])) {
      return { value: null, issue: brokenIssue(name) };
    }
    throw error;
  }
}

type Decoded = Readonly<{ text: string; issue: Issue | null }>;

/** The text, or the issue that names the line of the first byte that is none. */
function decode(name: string, bytes: Buffer, wish: TextWish): Found<Decoded> {
  const found = encodingOfHead(bytes);
  const isOpen = wish.otherwise === 'assume' || wish.encoding !== null || found !== 'other';
  const { label, issue } = chooseEncoding(found, wish.encoding, name);
  if (label === null && issue !== null) return { value: null, issue };
  const wanted = isOpen ? (label ?? 'utf-8') : 'utf-8';
  try {
    const text = new TextDecoder(wanted, { fatal: true }).decode(bytes);
    return { value: { text, issue: isOpen ? issue : null }, issue: null };
  } catch {
    const upTo = new TextDecoder(wanted).decode(bytes).split('\uFFFD', 1)[0] ?? '';
    const line = upTo.split('\n').length;
    const name16 = wish.encoding ?? 'UTF-8 or UTF-16';
    const message = `line ${line} is no ${name16} text; save the file as UTF-8, or state the encoding of a source`;
    return fail(name, 'not-text', message, `${name16} text`);
  }
}

function toText(file: FolderFile, packed: Buffer, wish: TextWish): Found<FolderText> {
  const { name } = file;
  const unpacked = unpack(name, packed, wish.mostBytes);
  if (unpacked.value === null) return unpacked;
  const bytes = unpacked.value;
  const kind = findSignature(bytes.subarray(0, SIGNATURE_BYTES).toString('latin1'));
  if (kind !== null && !MESSAGE_KINDS.includes(kind.name)) {
    return fail(
      name,
      'not-text',
      `must be text, found ${kind.name}; ${kind.instead}`,
      'UTF-8 text',
    );
  }
  const decoded = decode(name, bytes, wish);
  if (decoded.value === null) return decoded;
  const { text, issue } = decoded.value;
  if (text.slice(0, 4096).includes('\u0000')) {
    return fail(name, 'not-text', `must be text, found ${BINARY}`, 'UTF-8 text');
  }
  return { value: { file, text, issues: issue === null ? [] : [issue] }, issue: null };
}

/**
 * Reads a text file whole. The bytes are hashed as they stand.
 *
 * @param name as written in session.yaml
 */
export async function readText(
  folder: string,
  name: string,
  wish: TextWish,
): Promise<Found<FolderText>> {
  const found = await findFile(folder, name);
  if (found.value === null) return found;
  if (found.value.bytes > wish.mostBytes) return tooLarge(name, found.value.bytes, wish.mostBytes);
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
    return toText({ name, sha256, bytes: bytes.length }, bytes, wish);
  } finally {
    await handle.close();
  }
}
