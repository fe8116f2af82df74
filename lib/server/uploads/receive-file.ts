/** Takes in one file of an upload: streamed to the disk, capped, hashed, whole or not at all. */
import { createHash } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { mkdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { Readable, Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { ReadableStream } from 'node:stream/web';
import { crashPoint } from '../crash-point';
import { uploadsRoot } from '../data-folders';
import { freeDiskBytes, listFiles, syncToDisk } from '../durable-files';
import { newId } from '../new-id';
import { nameKey, safeRelativePath, shownName } from '../safe-path';

const GIB = 1024 ** 3;

/** Largest file taken in, and how much of the disk stays free beside it. */
export const UPLOAD_LIMITS = { maxBytes: 8 * GIB, keepFreeBytes: GIB / 4 } as const;

export type UploadLimits = Readonly<{ maxBytes: number; keepFreeBytes: number }>;

export type ReceivedFile = Readonly<{
  uploadId: string;
  name: string;
  bytes: number;
  sha256: string;
}>;

export type UploadRefusal = Readonly<{
  status: 400 | 404 | 409 | 413 | 507;
  code: string;
  message: string;
}>;

type Incoming = Readonly<{
  /** Null starts a new upload. */
  uploadId: string | null;
  name: string;
  /** As the browser announces it; null when it does not. */
  announcedBytes: number | null;
  body: ReadableStream<Uint8Array> | null;
  signal: AbortSignal;
}>;

class TooLarge extends Error {}

/** The sender went away, or sent less than was announced. */
class BrokenOff extends Error {}

/** The body as it comes; what goes wrong with it is the sender's. */
async function* chunksOf(body: ReadableStream<Uint8Array> | null): AsyncGenerator<Uint8Array> {
  if (body === null) return;
  try {
    for await (const chunk of body) yield chunk;
  } catch (cause) {
    throw new BrokenOff('the sender went away', { cause });
  }
}

/** True for an id that `newId` made. */
export function isUploadId(text: unknown): text is string {
  return typeof text === 'string' && /^[0-9a-z]{16}$/.test(text);
}

/** Folder with the files of one upload. */
export function uploadFolder(uploadId: string): string {
  return path.join(uploadsRoot(), uploadId);
}

/**
 * Receives a file into its upload's folder. Its name is claimed first, so that of two that come at
 * once under one name, or under names that are one on some disks, the second is refused.
 *
 * @returns what was received, or a refusal; when the sender goes away the stream's own error is
 * thrown, and nothing of the file is left
 */
export async function receiveFile(
  incoming: Incoming,
  limits: UploadLimits = UPLOAD_LIMITS,
): Promise<ReceivedFile | UploadRefusal> {
  const name = safeRelativePath(incoming.name);
  if (name === null) {
    const message = `"${shownName(incoming.name)}" is no plain file name: folders may be given with "/", but not "..", no control signs and none of \\ : * ? " < > |, and at most 200 letters a part.`;
    return { status: 400, code: 'unsafe-name', message };
  }
  const tooMuch = await sizeRefusal(name, incoming.announcedBytes, limits);
  if (tooMuch !== null) return tooMuch;
  const uploadId = incoming.uploadId ?? newId();
  if (incoming.uploadId !== null && !(await exists(uploadFolder(uploadId)))) {
    const message = 'This upload is no longer there: start again.';
    return { status: 404, code: 'no-such-upload', message };
  }
  const claim = path.join(uploadFolder(uploadId), 'names', hashOf(nameKey(name)));
  try {
    await mkdir(path.dirname(claim), { recursive: true });
    await writeFile(claim, '', { flag: 'wx' });
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return nameTwice(name, 'was sent twice');
    throw error;
  }
  const target = path.join(uploadFolder(uploadId), 'files', name);
  try {
    const received = { uploadId, name, ...(await writeWhole(target, incoming, limits)) };
    await writeFile(claim, received.sha256);
    return received;
  } catch (error) {
    await rm(incoming.uploadId === null ? uploadFolder(uploadId) : claim, {
      recursive: true,
      force: true,
    });
    if (error instanceof BrokenOff) return brokenOff(name);
    if (error instanceof TooLarge) return tooLarge(name, limits);
    if (codeOf(error) === 'ENOSPC') return diskFull(name);
    if (['EEXIST', 'ENOTDIR', 'EISDIR'].includes(codeOf(error))) {
      return nameTwice(name, 'was sent both as a file and as a folder');
    }
    throw error;
  }
}

function brokenOff(name: string): UploadRefusal {
  const message = `The upload of "${name}" was broken off: send it again.`;
  return { status: 400, code: 'broken-off', message };
}

function nameTwice(name: string, text: string): UploadRefusal {
  return { status: 409, code: 'name-twice', message: `"${name}" ${text}.` };
}

function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

/**
 * The one file of an upload, with the hash taken while it came.
 *
 * @returns null where the upload is gone, or holds no file or several
 */
export async function receivedOf(
  uploadId: string,
): Promise<Readonly<{ file: string; name: string; sha256: string }> | null> {
  const folder = uploadFolder(uploadId);
  const names = await listFiles(path.join(folder, 'files')).catch(() => []); // gone: the same as empty
  const [name] = names;
  if (name === undefined || names.length > 1) return null;
  const claim = path.join(folder, 'names', hashOf(nameKey(name)));
  const sha256 = await readFile(claim, 'utf8').catch(() => '');
  if (sha256 === '') return null;
  return { file: path.join(folder, 'files', name), name: path.posix.basename(name), sha256 };
}

/** Removes an upload that nobody wants any more, also one to which something is just added. */
export async function removeUpload(uploadId: string): Promise<void> {
  const options = { recursive: true, force: true, maxRetries: 5, retryDelay: 20 } as const;
  await rm(uploadFolder(uploadId), options);
}

async function writeWhole(
  target: string,
  incoming: Incoming,
  limits: UploadLimits,
): Promise<Readonly<{ bytes: number; sha256: string }>> {
  const part = `${target}.${newId()}.part`;
  await mkdir(path.dirname(target), { recursive: true });
  const hash = createHash('sha256');
  let bytes = 0;
  const measure = new Transform({
    transform(chunk: Buffer, _encoding, done) {
      bytes += chunk.length;
      hash.update(chunk);
      done(bytes > limits.maxBytes ? new TooLarge() : null, chunk);
    },
  });
  try {
    const source = Readable.from(chunksOf(incoming.body), { objectMode: false });
    await pipeline(source, measure, createWriteStream(part), { signal: incoming.signal });
    if (bytes < (incoming.announcedBytes ?? 0)) throw new BrokenOff('it ended early');
    await syncToDisk(part);
    crashPoint('upload:file-synced');
    await rename(part, target);
    await syncToDisk(path.dirname(target));
    crashPoint('upload:renamed');
  } catch (error) {
    await rm(part, { force: true });
    throw error;
  }
  return { bytes, sha256: hash.digest('hex') };
}

async function sizeRefusal(
  name: string,
  announcedBytes: number | null,
  limits: UploadLimits,
): Promise<UploadRefusal | null> {
  if (announcedBytes === null) return null;
  if (announcedBytes > limits.maxBytes) return tooLarge(name, limits);
  await mkdir(uploadsRoot(), { recursive: true });
  const freeBytes = await freeDiskBytes(uploadsRoot());
  return announcedBytes + limits.keepFreeBytes > freeBytes ? diskFull(name) : null;
}

function tooLarge(name: string, limits: UploadLimits): UploadRefusal {
  const limit =
    limits.maxBytes >= GIB ? `${limits.maxBytes / GIB} GiB` : `${limits.maxBytes} bytes`;
  return { status: 413, code: 'too-large', message: `"${name}" is larger than ${limit}.` };
}

function diskFull(name: string): UploadRefusal {
  return {
    status: 507,
    code: 'disk-full',
    message: `There is not enough free disk space for "${name}".`,
  };
}

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : '';
}

async function exists(file: string): Promise<boolean> {
  return stat(file).then(
    () => true,
    () => false,
  );
}
