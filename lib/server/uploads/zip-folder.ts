/**
 * Packs a folder into a .zip while it is being sent; nothing is held in memory but one block.
 *
 * Source: PKWARE, APPNOTE.TXT - .ZIP File Format Specification 6.3.10, 2022, 4.3.7 (local header),
 * 4.3.9 (data descriptor), 4.3.12 (list of contents), 4.3.16 (its end), 4.4.4 (flags).
 */
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import path from 'node:path';
import { Readable, Transform } from 'node:stream';
import { crc32, createDeflateRaw } from 'node:zlib';
import { listFiles } from '../durable-files';

/** Sizes and offsets have 32 bits here. */
const MAX_BYTES = 0xffff_0000;
const VERSION = 20;
/** Sizes follow the data (bit 3); names are UTF-8 (bit 11). */
const FLAGS = 0x0808;
const DEFLATED = 8;
/** 1 January 1980, the format's first day: the same folder gives the same archive. */
const FIRST_DAY = 0x0021;

type Packed = Readonly<{
  name: Buffer;
  offset: number;
  crc: number;
  bytes: number;
  compressedBytes: number;
}>;

/** A file of an archive: text, or what lies on the disk. */
export type ZipContent = Readonly<{ text: string }> | Readonly<{ file: string; bytes: number }>;

/** Texts by name that the archive holds in place of, or beside, the folder's own files. */
export type OtherTexts = ReadonlyMap<string, string>;

/** @returns the archive block by block; null when the folder does not fit the format */
export async function zipFolder(
  folder: string,
  texts: OtherTexts = new Map(),
): Promise<AsyncGenerator<Buffer> | null> {
  const contents = new Map<string, ZipContent>();
  for (const name of await listFiles(folder)) {
    const file = path.join(folder, name);
    contents.set(name, { file, bytes: (await stat(file)).size });
  }
  for (const [name, text] of texts) contents.set(name, { text });
  return zipContents(contents);
}

/** @returns the archive of files from anywhere, block by block; null when they do not fit the format */
export function zipContents(
  contents: ReadonlyMap<string, ZipContent>,
): AsyncGenerator<Buffer> | null {
  let totalBytes = 0;
  for (const content of contents.values())
    totalBytes += 'text' in content ? Buffer.byteLength(content.text) : content.bytes;
  return totalBytes > MAX_BYTES ? null : archiveOf(contents);
}

async function* archiveOf(contents: ReadonlyMap<string, ZipContent>): AsyncGenerator<Buffer> {
  const packed: Packed[] = [];
  let offset = 0;
  for (const [name, content] of [...contents].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const counted = { crc: 0, bytes: 0, compressedBytes: 0 };
    const head = localHeader(Buffer.from(name));
    yield head;
    for await (const block of deflated(content, counted)) {
      counted.compressedBytes += block.length;
      yield block;
    }
    const tail = sizesAfter(counted);
    yield tail;
    packed.push({ name: Buffer.from(name), offset, ...counted });
    offset += head.length + counted.compressedBytes + tail.length;
  }
  const list = Buffer.concat(packed.map(listEntry));
  yield list;
  yield endOfList(packed.length, list.length, offset);
}

async function* deflated(
  content: ZipContent,
  counted: { crc: number; bytes: number },
): AsyncGenerator<Buffer> {
  const count = new Transform({
    transform(chunk: Buffer, _encoding, done) {
      counted.crc = crc32(chunk, counted.crc);
      counted.bytes += chunk.length;
      done(null, chunk);
    },
  });
  const source: Readable =
    'text' in content ? Readable.from([Buffer.from(content.text)]) : createReadStream(content.file);
  source.once('error', (error) => count.destroy(error));
  for await (const block of source.pipe(count).pipe(createDeflateRaw())) yield block;
}

function localHeader(name: Buffer): Buffer {
  const head = Buffer.alloc(30);
  head.writeUInt32LE(0x04034b50, 0);
  head.writeUInt16LE(VERSION, 4);
  head.writeUInt16LE(FLAGS, 6);
  head.writeUInt16LE(DEFLATED, 8);
  head.writeUInt16LE(FIRST_DAY, 12);
  head.writeUInt16LE(name.length, 26);
  return Buffer.concat([head, name]);
}

function sizesAfter({ crc, bytes, compressedBytes }: Omit<Packed, 'name' | 'offset'>): Buffer {
  const tail = Buffer.alloc(16);
  tail.writeUInt32LE(0x08074b50, 0);
  tail.writeUInt32LE(crc, 4);
  tail.writeUInt32LE(compressedBytes, 8);
  tail.writeUInt32LE(bytes, 12);
  return tail;
}

function listEntry(file: Packed): Buffer {
  const entry = Buffer.alloc(46);
  entry.writeUInt32LE(0x02014b50, 0);
  entry.writeUInt16LE(VERSION, 4);
  entry.writeUInt16LE(VERSION, 6);
  entry.writeUInt16LE(FLAGS, 8);
  entry.writeUInt16LE(DEFLATED, 10);
  entry.writeUInt16LE(FIRST_DAY, 14);
  entry.writeUInt32LE(file.crc, 16);
  entry.writeUInt32LE(file.compressedBytes, 20);
  entry.writeUInt32LE(file.bytes, 24);
  entry.writeUInt16LE(file.name.length, 28);
  entry.writeUInt32LE(file.offset, 42);
  return Buffer.concat([entry, file.name]);
}

function endOfList(count: number, listBytes: number, listOffset: number): Buffer {
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(count, 8);
  end.writeUInt16LE(count, 10);
  end.writeUInt32LE(listBytes, 12);
  end.writeUInt32LE(listOffset, 16);
  return end;
}
