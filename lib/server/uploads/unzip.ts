/** Unpacks a .zip that somebody else made: nothing outside the folder, no links, no bombs. */
import { createWriteStream } from 'node:fs';
import { type FileHandle, mkdir, open } from 'node:fs/promises';
import path from 'node:path';
import { Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { crc32, createInflateRaw } from 'node:zlib';
import type { Issue } from '@/lib/core/result';
import { isSystemFile, safeRelativePath } from '../safe-path';
import { BadZip, readAt, readZipDirectory, type ZipEntry } from './zip-directory';

/** Text of samples packs to a twentieth at the very best; a bomb to a thousandth. */
export const UNZIP_LIMITS = {
  maxEntries: 2_000,
  maxTotalBytes: 16 * 1024 ** 3,
  maxRatio: 200,
  /** Small files may pack as well as they like. */
  ratioFromBytes: 1024 * 1024,
} as const;

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
    const all = await readZipDirectory(file, (await file.stat()).size, limits.maxEntries);
    const entries = all.filter((entry) => !entry.isFolder && !isSystemFile(entry.name));
    const issues = checkEntries(archive, entries, limits);
    if (issues.length > 0) return issues;
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

function checkEntries(archive: string, entries: readonly ZipEntry[], limits: UnzipLimits): Issue[] {
  const issues = entries.flatMap((entry) => {
    const fault = entryFault(entry, limits);
    return fault === null
      ? []
      : [zipIssue(fault.code, archive, `holds "${entry.name}", ${fault.text}.`)];
  });
  const names = new Set<string>();
  for (const { name } of entries) {
    const key = name.normalize('NFC').toLowerCase();
    if (names.has(key)) issues.push(zipIssue('name-twice', archive, `holds "${name}" twice.`));
    names.add(key);
  }
  const folders = new Set([...names].flatMap(foldersOf));
  for (const name of names) {
    if (!folders.has(name)) continue;
    issues.push(zipIssue('name-twice', archive, `holds "${name}" as a file and as a folder.`));
  }
  const totalBytes = entries.reduce((sum, entry) => sum + entry.bytes, 0);
  if (totalBytes > limits.maxTotalBytes) {
    const text = `would unpack to ${totalBytes} bytes, more than ${limits.maxTotalBytes}.`;
    issues.push(zipIssue('zip-too-large', archive, text));
  }
  return issues;
}

/** `a/b/c.csv` lies in `a` and `a/b`. */
function foldersOf(name: string): string[] {
  const parts = name.split('/');
  return parts.slice(1).map((_part, index) => parts.slice(0, index + 1).join('/'));
}

function entryFault(entry: ZipEntry, limits: UnzipLimits): { code: string; text: string } | null {
  if (safeRelativePath(entry.name) === null) {
    return { code: 'unsafe-name', text: 'which is no plain name inside the archive' };
  }
  if (entry.isLink) return { code: 'link-in-zip', text: 'which is a link, not a file' };
  if (entry.isEncrypted) return { code: 'encrypted-zip', text: 'which is encrypted' };
  if (entry.method !== STORED && entry.method !== DEFLATED) {
    const text = `packed by method ${entry.method}; only stored (0) and deflated (8) can be read`;
    return { code: 'zip-method', text };
  }
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
  const bytesTotal = entries.reduce((sum, entry) => sum + entry.bytes, 0);
  let bytesDone = 0;
  await mkdir(request.into, { recursive: true });
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
  if (local.readUInt32LE(0) !== LOCAL_SIGNATURE) throw new BadZip(`"${entry.name}" is damaged`);
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
      done(tooLong ? new BadZip(`"${entry.name}" is longer than its list says`) : null, chunk);
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
    if (code.startsWith('Z_')) throw new BadZip(`"${entry.name}" is damaged`);
    throw error;
  }
  if (bytes !== entry.bytes || sum !== entry.crc32) throw new BadZip(`"${entry.name}" is damaged`);
}

async function* packedBytes(file: FileHandle, start: number, length: number) {
  const CHUNK_BYTES = 1 << 18;
  for (let done = 0; done < length; ) {
    const chunk = await readAt(file, start + done, Math.min(CHUNK_BYTES, length - done));
    done += chunk.length;
    yield chunk;
  }
}
