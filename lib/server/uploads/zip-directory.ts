/**
 * Reads the list of contents of a .zip. The list at its end is what counts, as for every unpacking
 * program; entries are found through it and never by searching.
 *
 * Source: PKWARE, APPNOTE.TXT - .ZIP File Format Specification 6.3.10, 2022, 4.3.7, 4.3.12,
 * 4.3.14 to 4.3.16, 4.4.2.2, 4.4.4, 4.4.5, 4.4.17.1, 4.5.3.
 */
import type { FileHandle } from 'node:fs/promises';
import { safeRelativePath } from '../safe-path';

export type ZipEntry = Readonly<{
  name: string;
  method: number;
  compressedBytes: number;
  bytes: number;
  crc32: number;
  localOffset: number;
  isFolder: boolean;
  isLink: boolean;
  isEncrypted: boolean;
}>;

const END_SIGNATURE = 0x06054b50;
const END64_SIGNATURE = 0x06064b50;
const LOCATOR64_SIGNATURE = 0x07064b50;
const ENTRY_SIGNATURE = 0x02014b50;
const END_BYTES = 22;
const LOCATOR64_BYTES = 20;
const END64_BYTES = 56;
const ENTRY_BYTES = 46;
const MAX_COMMENT_BYTES = 65_535;
const IN_ZIP64 = 0xffffffff;
const MAX_DIRECTORY_BYTES = 64 * 1024 * 1024;
const UNIX_TYPE_MASK = 0o170000;
const UNIX_LINK = 0o120000;

/** The archive is damaged or no .zip; the message says how. */
export class BadZip extends Error {}

export async function readAt(file: FileHandle, offset: number, length: number): Promise<Buffer> {
  const buffer = Buffer.alloc(length);
  const { bytesRead } = await file.read(buffer, 0, length, offset);
  if (bytesRead < length) throw new BadZip('it ends too early');
  return buffer;
}

type Directory = Readonly<{ count: number; offset: number; length: number }>;

async function findDirectory(file: FileHandle, size: number): Promise<Directory> {
  const tailBytes = Math.min(size, END_BYTES + MAX_COMMENT_BYTES);
  const tail = await readAt(file, size - tailBytes, tailBytes);
  let at = tail.length - END_BYTES;
  while (at >= 0 && tail.readUInt32LE(at) !== END_SIGNATURE) at -= 1;
  if (at < 0) throw new BadZip('it has no list of contents; it is no .zip or was cut off');
  const end = tail.subarray(at);
  const plain = {
    count: end.readUInt16LE(10),
    length: end.readUInt32LE(12),
    offset: end.readUInt32LE(16),
  };
  const endOffset = size - tailBytes + at;
  return (await findDirectory64(file, endOffset)) ?? plain;
}

async function findDirectory64(file: FileHandle, endOffset: number): Promise<Directory | null> {
  if (endOffset < LOCATOR64_BYTES) return null;
  const locator = await readAt(file, endOffset - LOCATOR64_BYTES, LOCATOR64_BYTES);
  if (locator.readUInt32LE(0) !== LOCATOR64_SIGNATURE) return null;
  const end = await readAt(file, Number(locator.readBigUInt64LE(8)), END64_BYTES);
  if (end.readUInt32LE(0) !== END64_SIGNATURE) throw new BadZip('its list of contents is damaged');
  return {
    count: Number(end.readBigUInt64LE(32)),
    length: Number(end.readBigUInt64LE(40)),
    offset: Number(end.readBigUInt64LE(48)),
  };
}

/** The 64-bit fields stand in the extra field in a fixed order, only those that overflowed. */
function wideFields(extra: Buffer, narrow: readonly number[]): number[] {
  let wide: Buffer = Buffer.alloc(0);
  for (let at = 0; at + 4 <= extra.length; at += 4 + extra.readUInt16LE(at + 2)) {
    if (extra.readUInt16LE(at) === 1)
      wide = extra.subarray(at + 4, at + 4 + extra.readUInt16LE(at + 2));
  }
  let used = 0;
  return narrow.map((value) => {
    if (value !== IN_ZIP64) return value;
    if (used + 8 > wide.length) throw new BadZip('a size in it is missing');
    const whole = Number(wide.readBigUInt64LE(used));
    used += 8;
    return whole;
  });
}

/** Systems on which a backslash parts folders: FAT and NTFS; 4.4.2.2. */
const BACKSLASH_SYSTEMS = [0, 10];

/**
 * The name as it is meant: some programs write `./a.csv`, some on Windows `flight\\a.csv`, though 4.4.17.1
 * asks for forward slashes. A name that would not be plain then is left as it stands.
 */
function meantName(written: string, system: number): string {
  const isBackwards = BACKSLASH_SYSTEMS.includes(system) && !written.includes('/');
  const slashed = isBackwards ? written.replaceAll('\\', '/') : written;
  const meant = slashed.replace(/^(?:\.\/)+/, '');
  return safeRelativePath(meant.replace(/\/$/, '')) === null ? written : meant;
}

function readEntry(directory: Buffer, at: number): Readonly<{ entry: ZipEntry; next: number }> {
  if (at + ENTRY_BYTES > directory.length || directory.readUInt32LE(at) !== ENTRY_SIGNATURE) {
    throw new BadZip('its list of contents is damaged');
  }
  const nameEnd = at + ENTRY_BYTES + directory.readUInt16LE(at + 28);
  const extraEnd = nameEnd + directory.readUInt16LE(at + 30);
  const next = extraEnd + directory.readUInt16LE(at + 32);
  if (next > directory.length) throw new BadZip('its list of contents is damaged');
  const narrow = [24, 20, 42].map((field) => directory.readUInt32LE(at + field));
  const wide = wideFields(directory.subarray(nameEnd, extraEnd), narrow);
  const [bytes = 0, compressedBytes = 0, localOffset = 0] = wide;
  const written = directory.toString('utf8', at + ENTRY_BYTES, nameEnd);
  const name = meantName(written, directory.readUInt8(at + 5));
  const unixMode = directory.readUInt32LE(at + 38) >>> 16;
  const entry: ZipEntry = {
    name,
    method: directory.readUInt16LE(at + 10),
    compressedBytes,
    bytes,
    crc32: directory.readUInt32LE(at + 16),
    localOffset,
    isFolder: name.endsWith('/'),
    isLink: (unixMode & UNIX_TYPE_MASK) === UNIX_LINK,
    isEncrypted: (directory.readUInt16LE(at + 8) & 1) === 1,
  };
  return { entry, next };
}

/**
 * @param file an open .zip
 * @param size its bytes
 * @param maxEntries more than this is refused
 * @returns the entries in the order of the list; throws `BadZip`
 */
export async function readZipDirectory(
  file: FileHandle,
  size: number,
  maxEntries: number,
): Promise<ZipEntry[]> {
  if (size < END_BYTES) throw new BadZip('it is too short to be a .zip');
  const { count, offset, length } = await findDirectory(file, size);
  if (count > maxEntries) throw new BadZip(`it holds ${count} entries, more than ${maxEntries}`);
  if (length > MAX_DIRECTORY_BYTES || offset + length > size) {
    throw new BadZip('its list of contents is damaged');
  }
  const directory = await readAt(file, offset, length);
  const entries: ZipEntry[] = [];
  for (let at = 0; entries.length < count; ) {
    const { entry, next } = readEntry(directory, at);
    entries.push(entry);
    at = next;
  }
  return entries;
}
