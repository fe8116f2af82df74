/** Unpacks a .zip that somebody else made: nothing outside the folder, no links, no bombs. */
import { createWriteStream } from 'node:fs';
import { type FileHandle, mkdir, open } from 'node:fs/promises';
import path from 'node:path';
import { Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { crc32, createInflateRaw } from 'node:zlib';
import type { Issue } from '@/lib/core/result';
import { freeDiskBytes } from '../durable-files';
import { isSystemFile, nameKey, safeRelativePath, shownName } from '../safe-path';
import { BadZip, readAt, readZipDirectory, type ZipEntry } from './zip-directory';

/** Text of samples packs to a twentieth at the very best; a bomb to a thousandth. */
export const UNZIP_LIMITS = {
  maxEntries: 2_000,
  maxTotalBytes: 16 * 1024 ** 3,
  maxRatio: 200,
  /** Small files may pack as well as they like. */
  ratioFromBytes: 1024 * 1024,
  /** What stays free on the disk beside what is unpacked. */
  keepFreeBytes: 256 * 1024 * 1024,
} as const;

/** So many things that do not fit are named, the others counted. */
const MOST_ISSUES = 20;

export type UnzipLimits = Readonly<Record<keyof typeof UNZIP_LIMITS, number>>;

type Unzip = Readonly<{
  /** Path of the .zip. */
  file: string;
  /** Folder to unpack into; made here. */
  into: string;
  limits?: UnzipLimits;
  onProgress?: (bytesDone: number, bytesTotal: number) => void;
  signal?: AbortSignal;
}>;

const LOCAL_SIGNATURE = 0x04034b50;
const LOCAL_BYTES = 30;
const STORED = 0;
const DEFLATED = 8;

/** @returns one issue for each thing in the archive that does not fit; empty when all was unpacked */
export async function unzip(request: Unzip): Promise<Issue[]> {
  const archive = path.basename(request.file);
  const file = await open(request.file, 'r');
  try {
    const limits = request.limits ?? UNZIP_LIMITS;
    const { size } = await file.stat();
    const all = await readZipDirectory(file, size, limits.maxEntries);
    const entries = all.filter((entry) => !entry.isFolder && !isSystemFile(entry.name));
    const issues = [
      ...packingIssues(archive, entries),
      ...checkEntries(archive, entries, limits),
      ...checkSizes(archive, entries, { ...limits, archiveBytes: size }),
    ];
    if (issues.length > 0) return capped(archive, issues);
    await mkdir(request.into, { recursive: true });
    const full = await diskIssue(archive, entries, request);
    if (full !== null) return [full];
    await unpackAll(file, entries, request);
    return [];
  } catch (error) {
    if (error instanceof BadZip)
      return [zipIssue('bad-zip', archive, `cannot be read: ${error.message}.`)];
    throw error;
  } finally {
    await file.close();
  }
}

function zipIssue(code: string, archive: string, text: string): Issue {
  return { code, severity: 'error', file: archive, message: `"${archive}" ${text}` };
}

function capped(archive: string, issues: readonly Issue[]): Issue[] {
  const more = issues.length - MOST_ISSUES;
  if (more <= 0) return [...issues];
  const rest = zipIssue('more-issues', archive, `holds ${more} more entries that do not fit.`);
  return [...issues.slice(0, MOST_ISSUES), rest];
}

const sumOf = (entries: readonly ZipEntry[], key: 'bytes' | 'compressedBytes'): number =>
  entries.reduce((sum, entry) => sum + entry[key], 0);

function checkSizes(
  archive: string,
  entries: readonly ZipEntry[],
  { archiveBytes, maxTotalBytes }: Pick<UnzipLimits, 'maxTotalBytes'> & { archiveBytes: number },
): Issue[] {
  const issues: Issue[] = [];
  if (sumOf(entries, 'compressedBytes') > archiveBytes) {
    const text = 'lists more packed bytes than it has: its entries lie over each other.';
    issues.push(zipIssue('zip-bomb', archive, text));
  }
  const totalBytes = sumOf(entries, 'bytes');
  if (totalBytes > maxTotalBytes) {
    const text = `would unpack to ${totalBytes} bytes, more than ${maxTotalBytes}.`;
    issues.push(zipIssue('zip-too-large', archive, text));
  }
  return issues;
}

async function diskIssue(
  archive: string,
  entries: readonly ZipEntry[],
  { into, limits = UNZIP_LIMITS }: Unzip,
): Promise<Issue | null> {
  const totalBytes = sumOf(entries, 'bytes');
  if (totalBytes + limits.keepFreeBytes <= (await freeDiskBytes(into))) return null;
  const text = `would unpack to ${totalBytes} bytes; there is not enough free disk space for it.`;
  return zipIssue('disk-full', archive, text);
}

function checkEntries(archive: string, entries: readonly ZipEntry[], limits: UnzipLimits): Issue[] {
  const issues = entries.flatMap((entry) => {
    const fault = entryFault(entry, limits);
    return fault === null
      ? []
      : [zipIssue(fault.code, archive, `holds "${shownName(entry.name)}", ${fault.text}.`)];
  });
  const names = new Set<string>();
  const twice = (name: string, text: string): Issue =>
    zipIssue('name-twice', archive, `holds "${shownName(name)}" ${text}.`);
  for (const { name } of entries) {
    const key = nameKey(name);
    if (names.has(key)) issues.push(twice(name, 'twice'));
    names.add(key);
  }
  const folders = new Set([...names].flatMap(foldersOf));
  for (const name of names) {
    if (folders.has(name)) issues.push(twice(name, 'as a file and as a folder'));
  }
  return issues;
}

/** `a/b/c.csv` lies in `a` and `a/b`. */
function foldersOf(name: string): string[] {
  const parts = name.split('/');
  return parts.slice(1).map((_part, index) => parts.slice(0, index + 1).join('/'));
}

const METHODS: Readonly<Record<number, string>> = {
  9: 'Deflate64',
  12: 'bzip2',
  14: 'LZMA',
  93: 'Zstandard',
  95: 'XZ',
};

function countedNames(entries: readonly ZipEntry[]): string {
  const [first] = entries;
  const more = entries.length > 1 ? ` and ${entries.length - 1} more` : '';
  return `"${shownName(first?.name ?? '')}"${more}`;
}

/** What the program that packed the archive should do otherwise: said once for all its files. */
function packingIssues(archive: string, entries: readonly ZipEntry[]): Issue[] {
  const issues: Issue[] = [];
  const encrypted = entries.filter(({ isEncrypted }) => isEncrypted);
  if (encrypted.length > 0) {
    const text = `is encrypted (${countedNames(encrypted)}): pack it without a password.`;
    issues.push(zipIssue('encrypted-zip', archive, text));
  }
  // An encrypted file's method is that of its encryption.
  const odd = entries.filter(
    ({ method, isEncrypted }) => !isEncrypted && method !== STORED && method !== DEFLATED,
  );
  for (const method of new Set(odd.map((entry) => entry.method))) {
    const named = countedNames(odd.filter((entry) => entry.method === method));
    const name = METHODS[method] ?? `method ${method}`;
    const text = `holds ${named} packed with ${name}: pack it again with Deflate, the usual method.`;
    issues.push(zipIssue('zip-method', archive, text));
  }
  return issues;
}

function entryFault(entry: ZipEntry, limits: UnzipLimits): { code: string; text: string } | null {
  if (safeRelativePath(entry.name) === null) {
    return { code: 'unsafe-name', text: 'which is no plain name inside the archive' };
  }
  if (entry.isLink) return { code: 'link-in-zip', text: 'which is a link, not a file' };
  const ratio = entry.bytes / Math.max(1, entry.compressedBytes);
  if (entry.bytes > limits.ratioFromBytes && ratio > limits.maxRatio) {
    return {
      code: 'zip-bomb',
      text: `packed ${Math.round(ratio)} to 1, which no record of a flight is`,
    };
  }
  return null;
}

async function unpackAll(
  file: FileHandle,
  entries: readonly ZipEntry[],
  request: Unzip,
): Promise<void> {
  const bytesTotal = sumOf(entries, 'bytes');
  let bytesDone = 0;
  for (const entry of entries) {
    await unpackEntry(file, entry, request, (bytes) => {
      bytesDone += bytes;
      request.onProgress?.(bytesDone, bytesTotal);
    });
  }
}

async function unpackEntry(
  file: FileHandle,
  entry: ZipEntry,
  request: Unzip,
  onBytes: (bytes: number) => void,
): Promise<void> {
  const target = path.join(request.into, safeRelativePath(entry.name) ?? '');
  await mkdir(path.dirname(target), { recursive: true });
  const local = await readAt(file, entry.localOffset, LOCAL_BYTES);
  if (local.readUInt32LE(0) !== LOCAL_SIGNATURE)
    throw new BadZip(`"${shownName(entry.name)}" is damaged`);
  const start = entry.localOffset + LOCAL_BYTES + local.readUInt16LE(26) + local.readUInt16LE(28);
  let bytes = 0;
  let sum = 0;
  // Counted while it comes out: the list may say one size and the data be another.
  const check = new Transform({
    transform(chunk: Buffer, _encoding, done) {
      bytes += chunk.length;
      sum = crc32(chunk, sum);
      onBytes(chunk.length);
      const tooLong = bytes > entry.bytes;
      done(
        tooLong ? new BadZip(`"${shownName(entry.name)}" is longer than its list says`) : null,
        chunk,
      );
    },
  });
  const packed = packedBytes(file, start, entry.compressedBytes);
  const out = createWriteStream(target, { flags: 'wx' });
  const options = request.signal === undefined ? {} : { signal: request.signal };
  try {
    if (entry.method === STORED) await pipeline(packed, check, out, options);
    else await pipeline(packed, createInflateRaw(), check, out, options);
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (code.startsWith('Z_')) throw new BadZip(`"${shownName(entry.name)}" is damaged`);
    throw error;
  }
  if (bytes !== entry.bytes || sum !== entry.crc32)
    throw new BadZip(`"${shownName(entry.name)}" is damaged`);
}

async function* packedBytes(file: FileHandle, start: number, length: number) {
  const CHUNK_BYTES = 1 << 18;
  for (let done = 0; done < length; ) {
    const chunk = await readAt(file, start + done, Math.min(CHUNK_BYTES, length - done));
    done += chunk.length;
    yield chunk;
  }
}
