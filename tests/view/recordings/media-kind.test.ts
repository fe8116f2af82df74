import { expect, test } from 'vitest';
import { mediaKind, mediaRefusal } from '@/lib/view/recordings/media-kind';

const bytes = (...parts: readonly (string | readonly number[])[]): Uint8Array =>
  Uint8Array.from(
    parts.flatMap((part) =>
      typeof part === 'string' ? [...part].map((letter) => letter.charCodeAt(0)) : part,
    ),
  );
const zeros = (count: number): number[] => new Array<number>(count).fill(0);

/** 128 kbit/s at 44.1 kHz, MPEG-1 layer III: frames of 417 bytes. */
const MP3_HEAD = [0xff, 0xfb, 0x90, 0x00];

/**
 * Source: WHATWG, MIME Sniffing Standard, 6.1 and 6.2: patterns "RIFF????WAVE", "ID3", "OggS", the
 * signatures of MP4 (`ftyp` with a brand) and WebM (EBML header with DocType webm), MP3 without ID3 (two
 * frames in a row). RFC 9639, 8.1: `fLaC`. RFC 7845, 5.1: `OpusHead`.
 */
test.each([
  ['wav', bytes('RIFF', [36, 0, 0, 0], 'WAVEfmt ')],
  ['flac', bytes('fLaC', [0, 0, 0, 34])],
  ['ogg', bytes('OggS', zeros(24), 'OpusHead')],
  ['ogg', bytes('OggS', zeros(24), [1], 'vorbis', [0])],
  ['webm', bytes([0x1a, 0x45, 0xdf, 0xa3, 0x9f, 0x42, 0x86, 0x81, 1, 0x42, 0x82, 0x84], 'webm')],
  ['mp4', bytes([0, 0, 0, 24], 'ftypmp42', zeros(4), 'mp42isom')],
  ['mp4', bytes([0, 0, 0, 20], 'ftypM4A ', zeros(4), 'isom')],
  ['mp3', bytes('ID3', [4, 0, 0, 0, 0, 0, 0])],
  ['mp3', bytes(MP3_HEAD, zeros(413), MP3_HEAD)],
])('a file that begins as %s does is one', (kind, head) => {
  expect(mediaKind(head)).toBe(kind);
});

test.each([
  [bytes('RIFF', zeros(4), 'AVI LIST'), 'is an AVI file'],
  [bytes([0, 0, 0, 20], 'ftypqt  ', zeros(8)), 'is a QuickTime file'],
  [bytes([0, 0, 0, 24], 'ftypheic', zeros(4), 'mif1heic'), 'does not begin like any'],
  [
    bytes([0x1a, 0x45, 0xdf, 0xa3, 0x93, 0x42, 0x82, 0x88], 'matroska'),
    'is a Matroska file and not WebM',
  ],
  [bytes('OggS', zeros(24), 'Speex   '), 'is an Ogg file without Opus, Vorbis or FLAC'],
  [bytes(MP3_HEAD, zeros(500)), 'does not begin like any'],
  [bytes('time,range\n0,300\n'), 'begins like a text'],
  [bytes(), 'is empty'],
])('what no browser plays is refused by what it is, whatever its name: %#', (head, words) => {
  expect(mediaKind(head)).toBeNull();
  expect(mediaRefusal('loop.wav', head)).toContain(`"loop.wav" ${words}`);
});
