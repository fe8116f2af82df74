import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { recordingLength } from '@/lib/server/recordings/recording-length';
import type { MediaKind } from '@/lib/view/recordings/media-kind';
import { tonesWav } from '../../support/tones';

const folder = mkdtempSync(path.join(tmpdir(), 'wakeline-length-'));
let count = 0;

function lengthOf(kind: MediaKind, bytes: Buffer): Promise<number | null> {
  count += 1;
  const file = path.join(folder, String(count));
  writeFileSync(file, bytes);
  return recordingLength(file, kind);
}

const text = (letters: string): Buffer => Buffer.from(letters, 'latin1');
const u32 = (value: number): Buffer => {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32BE(value);
  return bytes;
};
const box = (name: string, ...parts: readonly Buffer[]): Buffer => {
  const body = Buffer.concat(parts);
  return Buffer.concat([u32(body.length + 8), text(name), body]);
};

/** By hand: 8,000 samples a second of one byte each. */
test('a WAV of 2.5 s is 2.5 s long, also where its recorder was cut off before it wrote the size', async () => {
  const wav = tonesWav(2.5);
  expect(await lengthOf('wav', wav)).toBe(2.5);
  wav.writeUInt32LE(0xffffffff, 40);
  expect(await lengthOf('wav', wav)).toBe(2.5);
});

/** Source: RFC 9639, appendix D.1: the example file, of one sample at 44.1 kHz; its first 42 bytes. */
test('the first example of the FLAC standard is one sample long', async () => {
  const example = Buffer.from(
    '664c614380000022100010000000 0f00000f0ac442f0000000013e84b41807dc69030758 6a3dad1a2e0f'.replaceAll(
      ' ',
      '',
    ),
    'hex',
  );
  expect(await lengthOf('flac', example)).toBeCloseTo(1 / 44_100, 12);
});

/** Source: ISO/IEC 14496-12, 8.2.2.2: version, times, timescale, duration; in 64 bits with version 1. */
test('an MP4 says its length in mvhd, wherever moov lies', async () => {
  const plain = box('mvhd', Buffer.alloc(12), u32(600), u32(1500), Buffer.alloc(80));
  const media = box('mdat', Buffer.alloc(5000));
  expect(
    await lengthOf('mp4', Buffer.concat([box('ftyp', text('mp42')), media, box('moov', plain)])),
  ).toBe(2.5);
  const wide = box(
    'mvhd',
    Buffer.from([1, 0, 0, 0]),
    Buffer.alloc(16),
    u32(1000),
    u32(0),
    u32(7250),
    Buffer.alloc(80),
  );
  expect(
    await lengthOf(
      'mp4',
      Buffer.concat([box('ftyp', text('mp42')), box('moov', box('free'), wide)]),
    ),
  ).toBe(7.25);
});

/** Source: RFC 3533, 6 (granule position at byte 6); RFC 7845, 4 (48 kHz) and 5.1 (pre-skip at byte 10). */
test('an Opus file is as long as its last granule says, less what is skipped', async () => {
  const page = (granule: bigint, body: Buffer): Buffer => {
    const head = Buffer.alloc(28);
    head.write('OggS', 0, 'latin1');
    head.writeBigInt64LE(granule, 6);
    return Buffer.concat([head, body]);
  };
  const opus = Buffer.alloc(19);
  opus.write('OpusHead', 0, 'latin1');
  opus.writeUInt16LE(312, 10);
  const file = Buffer.concat([page(0n, opus), page(48_000n * 3n + 312n, Buffer.alloc(400))]);
  expect(await lengthOf('ogg', file)).toBe(3);
});

/** Source: RFC 9559, 5.1.2: Duration (0x4489) in units of TimestampScale (0x2AD7B1), both in Info (0x1549A966). */
test('a WebM says its length in its information, one of a live recorder says none', async () => {
  const duration = Buffer.alloc(8);
  duration.writeDoubleBE(4200);
  const info = Buffer.concat([
    Buffer.from([0x2a, 0xd7, 0xb1, 0x83, 0x0f, 0x42, 0x40, 0x44, 0x89, 0x88]),
    duration,
  ]);
  const head = Buffer.from([0x1a, 0x45, 0xdf, 0xa3, 0x80]);
  const segment = Buffer.from([
    0x18, 0x53, 0x80, 0x67, 0x01, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff,
  ]);
  const skipped = Buffer.from([0xec, 0x83, 1, 2, 3]);
  const full = Buffer.concat([
    head,
    segment,
    skipped,
    Buffer.from([0x15, 0x49, 0xa9, 0x66, 0x80 + info.length]),
    info,
  ]);
  expect(await lengthOf('webm', full)).toBeCloseTo(4.2, 9);
  expect(await lengthOf('webm', Buffer.concat([head, segment, skipped]))).toBeNull();
});

/** By hand, form from common practice: 100 frames of 1,152 samples at 44.1 kHz, counted after `Xing`. */
test('an MP3 with a count of its frames says its length, one without says none', async () => {
  const frame = Buffer.alloc(417);
  Buffer.from([0xff, 0xfb, 0x90, 0x00]).copy(frame);
  expect(await lengthOf('mp3', Buffer.concat([frame, frame]))).toBeNull();
  frame.write('Xing', 36, 'latin1');
  frame.writeUInt32BE(1, 40);
  frame.writeUInt32BE(100, 44);
  const tag = Buffer.from([0x49, 0x44, 0x33, 4, 0, 0, 0, 0, 0, 2, 0, 0]);
  expect(await lengthOf('mp3', Buffer.concat([tag, frame]))).toBeCloseTo((100 * 1152) / 44_100, 9);
});

test.each(['wav', 'flac', 'mp4', 'ogg', 'webm', 'mp3'] as const)(
  'a %s of which only a few bytes are left says no length',
  async (kind) => {
    expect(await lengthOf(kind, Buffer.from([0x1a, 0x45, 0xdf]))).toBeNull();
    expect(await lengthOf(kind, Buffer.alloc(70))).toBeNull();
  },
);
