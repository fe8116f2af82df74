/**
 * How long a recording is, as its own head says. Only a few parts of a file are read, whatever its size.
 *
 * Source: RIFF WAVE (Microsoft and IBM, Multimedia Programming Interface 1.0, 1991, chapter 3); RFC 9639, 8.2
 * (FLAC); ISO/IEC 14496-12, 8.2.2 (`mvhd`); RFC 3533, 6 and RFC 7845, 4 and 5.1 (Ogg, Opus); RFC 9559, 5.1.2 (WebM).
 * The frame count of an MP3 file: common practice, no source.
 */
import { type FileHandle, open } from 'node:fs/promises';
import { type MediaKind, mp3Frame } from '@/lib/view/recordings/media-kind';

/** More parts than this are looked at in no file. */
const MOST_PARTS = 2_000;

type Reader = Readonly<{
  bytes: number;
  /** Fewer bytes than asked for at the end of the file. */
  at: (from: number, count: number) => Promise<Buffer>;
}>;

function readerOf(handle: FileHandle, bytes: number): Reader {
  return {
    bytes,
    at: async (from, count) => {
      const { buffer, bytesRead } = await handle.read(Buffer.alloc(count), 0, count, from);
      return buffer.subarray(0, bytesRead);
    },
  };
}

const LENGTHS: Readonly<Record<MediaKind, (file: Reader) => Promise<number | null>>> = {
  wav: wavLength,
  flac: flacLength,
  mp4: mp4Length,
  ogg: oggLength,
  webm: webmLength,
  mp3: mp3Length,
};

/** @returns seconds; null where the file does not say, or what it says cannot be */
export async function recordingLength(file: string, kind: MediaKind): Promise<number | null> {
  const handle = await open(/* turbopackIgnore: true */ file, 'r');
  try {
    const { size } = await handle.stat();
    const lengthS = await LENGTHS[kind](readerOf(handle, size)).catch((error: unknown) => {
      // A head that is cut off or points past the end says no length; the file may play all the same.
      if (error instanceof RangeError) return null;
      throw error;
    });
    return lengthS !== null && Number.isFinite(lengthS) && lengthS > 0 ? lengthS : null;
  } finally {
    await handle.close();
  }
}

async function wavLength(file: Reader): Promise<number | null> {
  let bytesPerS = 0;
  let from = 12;
  for (let part = 0; part < MOST_PARTS; part++) {
    const head = await file.at(from, 24);
    const size = head.readUInt32LE(4);
    if (head.toString('latin1', 0, 4) === 'fmt ') bytesPerS = head.readUInt32LE(16);
    if (head.toString('latin1', 0, 4) === 'data') {
      // A recorder that was cut off leaves 0 or the largest number.
      const data = Math.min(size === 0 ? Infinity : size, file.bytes - from - 8);
      return data / bytesPerS;
    }
    from += 8 + size + (size % 2);
  }
  return null;
}

async function flacLength(file: Reader): Promise<number | null> {
  const info = await file.at(8, 18);
  const hz = info.readUIntBE(10, 3) >> 4;
  const samples = (info.readUInt8(13) & 0x0f) * 2 ** 32 + info.readUInt32BE(14);
  return samples / hz;
}

/** Looks through the boxes of a stretch for one of a name; its content, from where to where. */
async function findBox(file: Reader, name: string, [from, to]: readonly [number, number]) {
  for (let part = 0, at = from; part < MOST_PARTS && at + 8 <= to; part++) {
    const head = await file.at(at, 16);
    const short = head.readUInt32BE(0);
    const size = short === 1 ? Number(head.readBigUInt64BE(8)) : short === 0 ? to - at : short;
    if (head.toString('latin1', 4, 8) === name)
      return [at + (short === 1 ? 16 : 8), Math.min(to, at + size)] as const;
    if (size < 8) return null;
    at += size;
  }
  return null;
}

async function mp4Length(file: Reader): Promise<number | null> {
  const movie = await findBox(file, 'moov', [0, file.bytes]);
  const header = movie === null ? null : await findBox(file, 'mvhd', movie);
  if (header === null) return null;
  const body = await file.at(header[0], 32);
  return body.readUInt8(0) === 1
    ? Number(body.readBigUInt64BE(24)) / body.readUInt32BE(20)
    : body.readUInt32BE(16) / body.readUInt32BE(12);
}

const OPUS_HZ = 48_000;
const LAST_PAGE_BYTES = 128 * 1024;

async function oggLength(file: Reader): Promise<number | null> {
  const first = await file.at(0, 64);
  const isOpus = first.toString('latin1', 28, 36) === 'OpusHead';
  const isVorbis = first.toString('latin1', 29, 35) === 'vorbis';
  if (!isOpus && !isVorbis) return null;
  const hz = isOpus ? OPUS_HZ : first.readUInt32LE(40);
  const skipped = isOpus ? first.readUInt16LE(38) : 0;
  const tail = await file.at(Math.max(0, file.bytes - LAST_PAGE_BYTES), LAST_PAGE_BYTES);
  const page = tail.lastIndexOf('OggS');
  return page === -1 ? null : (Number(tail.readBigInt64LE(page + 6)) - skipped) / hz;
}

const EBML = { segment: 0x18538067, info: 0x1549a966, scale: 0x2ad7b1, duration: 0x4489 } as const;
const INFO_WITHIN_BYTES = 4 * 1024 * 1024;

/** A number of variable length: with its marker bit as an id, without it as a size. */
function readVint(head: Buffer, at: number, as: 'id' | 'size') {
  const first = head.readUInt8(at);
  const length = Math.clz32(first) - 23;
  if (length > 8) throw new RangeError('no number of variable length');
  let value = as === 'id' ? first : first & (0xff >> length);
  for (let next = 1; next < length; next++) value = value * 256 + head.readUInt8(at + next);
  return { value, length };
}

async function webmLength(file: Reader): Promise<number | null> {
  let scaleNs = 1e6;
  let duration: number | null = null;
  let at = 0;
  for (let part = 0; part < MOST_PARTS && at < Math.min(file.bytes, INFO_WITHIN_BYTES); part++) {
    const head = await file.at(at, 24);
    const id = readVint(head, 0, 'id');
    const size = readVint(head, id.length, 'size');
    const body = id.length + size.length;
    if (id.value === EBML.scale) scaleNs = head.readUIntBE(body, size.value);
    if (id.value === EBML.duration)
      duration = size.value === 4 ? head.readFloatBE(body) : head.readDoubleBE(body);
    if (duration !== null && id.value !== EBML.duration) break;
    // Into the segment and its information, over everything else.
    at += id.value === EBML.segment || id.value === EBML.info ? body : body + size.value;
  }
  return duration === null ? null : (duration * scaleNs) / 1e9;
}

async function mp3Length(file: Reader): Promise<number | null> {
  const tag = await file.at(0, 10);
  const isTagged = tag.toString('latin1', 0, 3) === 'ID3';
  const size = [6, 7, 8, 9].reduce((sum, at) => sum * 128 + (tag.readUInt8(at) & 0x7f), 0);
  const from = isTagged ? 10 + size : 0;
  const head = await file.at(from, 64);
  const frame = mp3Frame(head, 0);
  if (frame === null) return null;
  const side = frame.samples === 1152 ? (frame.isMono ? 17 : 32) : frame.isMono ? 9 : 17;
  const mark = head.toString('latin1', 4 + side, 8 + side);
  const hasCount = (mark === 'Xing' || mark === 'Info') && (head.readUInt8(11 + side) & 1) === 1;
  return hasCount ? (head.readUInt32BE(12 + side) * frame.samples) / frame.hz : null;
}
