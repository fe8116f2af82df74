/**
 * Packs a folder into a .zip while it is being sent; nothing is held in memory but one block.
 *
 * Source: PKWARE, APPNOTE.TXT - .ZIP File Format Specification 6.3.10, 2022, 4.3.7 (local header),
 * 4.3.9 (data descriptor), 4.3.12 (list of contents), 4.3.14 to 4.3.16 (its ends), 4.4.4 (flags), 4.5.3
 * (sizes of 64 bits).
 */
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import path from 'node:path';
import { pipeline, Readable, Transform } from 'node:stream';
import { crc32, createDeflateRaw } from 'node:zlib';
import { listFiles } from '../durable-files';

/** From so many bytes or files on, sizes, offsets and counts do not fit 32 and 16 bits. */
const WIDE_FROM_BYTES = 0xff00_0000;
const WIDE_FROM_FILES = 0xffff;
const IN_WIDE = 0xffff_ffff;
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

/** How wide the numbers of an archive are: `wide` is ZIP64, which needs a reader of version 4.5. */
type Form = 'plain' | 'wide';
const VERSION: Readonly<Record<Form, number>> = { plain: 20, wide: 45 };
const WIDE_FIELD = 0x0001;

/** A file of an archive: text, bytes, or what lies on the disk. */
export type ZipContent =
  | Readonly<{ text: string }>
  | Readonly<{ data: Uint8Array }>
  | Readonly<{ file: string; bytes: number }>;

/** How many bytes a file of an archive has before it is packed. */
export function contentBytes(content: ZipContent): number {
  if ('text' in content) return Buffer.byteLength(content.text);
  return 'data' in content ? content.data.length : content.bytes;
}

/** Texts by name that the archive holds in place of, or beside, the folder's own files. */
export type OtherTexts = ReadonlyMap<string, string>;

/** Files from elsewhere that go along, and names of the folder that they stand in place of. */
export type OtherFiles = Readonly<{
  files: readonly Readonly<{ name: string; file: string; bytes: number }>[];
  names: readonly string[];
}>;

const NO_OTHERS: OtherFiles = { files: [], names: [] };

/** @returns the archive block by block */
export async function zipFolder(
  folder: string,
  texts: OtherTexts = new Map(),
  others: OtherFiles = NO_OTHERS,
): Promise<AsyncGenerator<Buffer>> {
  return zipContents(await folderContents(folder, texts, others));
}

/** What a folder holds, with texts and files from elsewhere in their places. */
export async function folderContents(
  folder: string | null,
  texts: OtherTexts,
  others: OtherFiles,
): Promise<Map<string, ZipContent>> {
  const contents = new Map<string, ZipContent>();
  for (const name of folder === null ? [] : await listFiles(folder)) {
    if (folder === null || others.names.includes(name)) continue;
    const file = path.join(folder, name);
    contents.set(name, { file, bytes: (await stat(file)).size });
  }
  for (const { name, file, bytes } of others.files) contents.set(name, { file, bytes });
  for (const [name, text] of texts) contents.set(name, { text });
  return contents;
}

/**
 * The archive of files from anywhere, block by block.
 *
 * @param form of its numbers; where it is not said, wide where the files ask for it
 */
export function zipContents(
  contents: ReadonlyMap<string, ZipContent>,
  form: Form = neededForm(contents),
): AsyncGenerator<Buffer> {
  return archiveOf(contents, form);
}

function neededForm(contents: ReadonlyMap<string, ZipContent>): Form {
  let totalBytes = 0;
  for (const content of contents.values()) totalBytes += contentBytes(content);
  const isWide = totalBytes >= WIDE_FROM_BYTES || contents.size >= WIDE_FROM_FILES;
  return isWide ? 'wide' : 'plain';
}

async function* archiveOf(
  contents: ReadonlyMap<string, ZipContent>,
  form: Form,
): AsyncGenerator<Buffer> {
  const packed: Packed[] = [];
  let offset = 0;
  for (const [name, content] of [...contents].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const counted = { crc: 0, bytes: 0, compressedBytes: 0 };
    const head = localHeader(Buffer.from(name), form);
    yield head;
    for await (const block of deflated(content, counted)) {
      counted.compressedBytes += block.length;
      yield block;
    }
    const tail = form === 'wide' ? wideSizesAfter(counted) : sizesAfter(counted);
    yield tail;
    packed.push({ name: Buffer.from(name), offset, ...counted });
    offset += head.length + counted.compressedBytes + tail.length;
  }
  const list = Buffer.concat(packed.map((file) => listEntry(file, form)));
  yield list;
  if (form === 'wide') yield wideEndOfList(packed.length, list.length, offset);
  yield endOfList(packed.length, list.length, offset, form);
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
    'file' in content
      ? createReadStream(content.file)
      : Readable.from([Buffer.from('text' in content ? content.text : content.data)]);
  const packed = createDeflateRaw();
  // What fails on the way, such as a file that was removed meanwhile, comes out of the last of them.
  pipeline(source, count, packed, () => {});
  for await (const block of packed) yield block;
}

/** An extra field of 64-bit numbers. */
function wideField(numbers: readonly number[]): Buffer {
  const field = Buffer.alloc(4 + 8 * numbers.length);
  field.writeUInt16LE(WIDE_FIELD, 0);
  field.writeUInt16LE(8 * numbers.length, 2);
  numbers.forEach((number, at) => {
    field.writeBigUInt64LE(BigInt(number), 4 + 8 * at);
  });
  return field;
}

function localHeader(name: Buffer, form: Form): Buffer {
  // The sizes come after the data; that the field is there says that they have 64 bits.
  const extra = form === 'wide' ? wideField([0, 0]) : Buffer.alloc(0);
  const head = Buffer.alloc(30);
  head.writeUInt32LE(0x04034b50, 0);
  head.writeUInt16LE(VERSION[form], 4);
  head.writeUInt16LE(FLAGS, 6);
  head.writeUInt16LE(DEFLATED, 8);
  head.writeUInt16LE(FIRST_DAY, 12);
  if (form === 'wide') {
    head.writeUInt32LE(IN_WIDE, 18);
    head.writeUInt32LE(IN_WIDE, 22);
  }
  head.writeUInt16LE(name.length, 26);
  head.writeUInt16LE(extra.length, 28);
  return Buffer.concat([head, name, extra]);
}

type Counted = Omit<Packed, 'name' | 'offset'>;

function sizesAfter({ crc, bytes, compressedBytes }: Counted): Buffer {
  const tail = Buffer.alloc(16);
  tail.writeUInt32LE(0x08074b50, 0);
  tail.writeUInt32LE(crc, 4);
  tail.writeUInt32LE(compressedBytes, 8);
  tail.writeUInt32LE(bytes, 12);
  return tail;
}

function wideSizesAfter({ crc, bytes, compressedBytes }: Counted): Buffer {
  const tail = Buffer.alloc(24);
  tail.writeUInt32LE(0x08074b50, 0);
  tail.writeUInt32LE(crc, 4);
  tail.writeBigUInt64LE(BigInt(compressedBytes), 8);
  tail.writeBigUInt64LE(BigInt(bytes), 16);
  return tail;
}

function listEntry(file: Packed, form: Form): Buffer {
  const { bytes, compressedBytes, offset } = file;
  const isWide = form === 'wide';
  const extra = isWide ? wideField([bytes, compressedBytes, offset]) : Buffer.alloc(0);
  const entry = Buffer.alloc(46);
  entry.writeUInt32LE(0x02014b50, 0);
  entry.writeUInt16LE(VERSION[form], 4);
  entry.writeUInt16LE(VERSION[form], 6);
  entry.writeUInt16LE(FLAGS, 8);
  entry.writeUInt16LE(DEFLATED, 10);
  entry.writeUInt16LE(FIRST_DAY, 14);
  entry.writeUInt32LE(file.crc, 16);
  entry.writeUInt32LE(isWide ? IN_WIDE : compressedBytes, 20);
  entry.writeUInt32LE(isWide ? IN_WIDE : bytes, 24);
  entry.writeUInt16LE(file.name.length, 28);
  entry.writeUInt16LE(extra.length, 30);
  entry.writeUInt32LE(isWide ? IN_WIDE : offset, 42);
  return Buffer.concat([entry, file.name, extra]);
}

/** The end of the list in 64 bits, and the pointer to it that stands before the plain end. */
function wideEndOfList(count: number, listBytes: number, listOffset: number): Buffer {
  const end = Buffer.alloc(76);
  end.writeUInt32LE(0x06064b50, 0);
  end.writeBigUInt64LE(44n, 4); // bytes of this record after this number
  end.writeUInt16LE(VERSION.wide, 12);
  end.writeUInt16LE(VERSION.wide, 14);
  end.writeBigUInt64LE(BigInt(count), 24);
  end.writeBigUInt64LE(BigInt(count), 32);
  end.writeBigUInt64LE(BigInt(listBytes), 40);
  end.writeBigUInt64LE(BigInt(listOffset), 48);
  end.writeUInt32LE(0x07064b50, 56);
  end.writeBigUInt64LE(BigInt(listOffset + listBytes), 64);
  end.writeUInt32LE(1, 72);
  return end;
}

function endOfList(count: number, listBytes: number, listOffset: number, form: Form): Buffer {
  const isWide = form === 'wide';
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(isWide ? 0xffff : count, 8);
  end.writeUInt16LE(isWide ? 0xffff : count, 10);
  end.writeUInt32LE(isWide ? IN_WIDE : listBytes, 12);
  end.writeUInt32LE(isWide ? IN_WIDE : listOffset, 16);
  return end;
}
