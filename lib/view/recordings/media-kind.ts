/**
 * What kind of recording a file is, by its first bytes and never by its name.
 *
 * Source: WHATWG, MIME Sniffing Standard, 6.2 (signatures of MP4, WebM, MP3 without ID3 and the table of
 * audio and video types); RFC 9639, 8.1 (`fLaC`); RFC 3533, 6 (`OggS`).
 */

export type MediaKind = 'wav' | 'mp3' | 'mp4' | 'ogg' | 'webm' | 'flac';

/** A picture, where a file has one, is found by the browser: mp4 and webm may hold sound alone. */
export const MEDIA_TYPES: Readonly<Record<MediaKind, string>> = {
  wav: 'audio/wav',
  mp3: 'audio/mpeg',
  mp4: 'video/mp4',
  ogg: 'audio/ogg',
  webm: 'video/webm',
  flac: 'audio/flac',
};

/** So many bytes from the start of a file decide. */
export const MEDIA_HEAD_BYTES = 8192;

const letters = (bytes: Uint8Array, from: number, count: number): string =>
  String.fromCharCode(...bytes.subarray(from, from + count));

const PLAYED_BRANDS = /^(mp4|iso|avc|dash|M4A|M4B|M4V|f4v|msnv|3gp|cmf)/i;

/** The brands of an ISO base media file: what it says it can be read as. */
function brandsOf(head: Uint8Array): readonly string[] {
  if (head.length < 12 || letters(head, 4, 4) !== 'ftyp') return [];
  const size = new DataView(head.buffer, head.byteOffset).getUint32(0);
  const end = Math.min(size, head.length);
  const brands = [letters(head, 8, 4)];
  for (let at = 16; at + 4 <= end; at += 4) brands.push(letters(head, at, 4));
  return brands;
}

/** The document type of an EBML file: `webm`, `matroska`; null for what is none. */
function ebmlType(head: Uint8Array): string | null {
  if (head[0] !== 0x1a || head[1] !== 0x45 || head[2] !== 0xdf || head[3] !== 0xa3) return null;
  for (let at = 4; at < 64 && at + 3 < head.length; at++) {
    if (head[at] !== 0x42 || head[at + 1] !== 0x82) continue;
    // A size of one byte has its highest bit set; no name of a type is longer.
    return letters(head, at + 3, (head[at + 2] ?? 0x80) & 0x7f).replaceAll('\0', '');
  }
  return '';
}

const MPEG1_KBPS = [0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320];
const MPEG2_KBPS = [0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160];
const MPEG1_HZ = [44_100, 48_000, 32_000];

export type Mp3Frame = Readonly<{ bytes: number; samples: number; hz: number; isMono: boolean }>;

/** The frame of layer III that starts at a place; null where none does. */
export function mp3Frame(bytes: Uint8Array, at: number): Mp3Frame | null {
  const [one = 0, two = 0, three = 0, four = 0] = bytes.subarray(at, at + 4);
  const version = (two >> 3) & 3; // 3: MPEG-1, 2: MPEG-2, 0: MPEG-2.5
  if (one !== 0xff || (two & 0xe0) !== 0xe0 || version === 1 || ((two >> 1) & 3) !== 1) return null;
  const kbps = (version === 3 ? MPEG1_KBPS : MPEG2_KBPS)[three >> 4];
  const full = MPEG1_HZ[(three >> 2) & 3];
  if (kbps === undefined || kbps === 0 || full === undefined) return null;
  const hz = version === 3 ? full : version === 2 ? full / 2 : full / 4;
  const samples = version === 3 ? 1152 : 576;
  const length = Math.floor(((samples / 8) * kbps * 1000) / hz) + ((three >> 1) & 1);
  return { bytes: length, samples, hz, isMono: four >> 6 === 3 };
}

function isMp3(head: Uint8Array): boolean {
  if (letters(head, 0, 3) === 'ID3') return true;
  const first = mp3Frame(head, 0);
  return first !== null && mp3Frame(head, first.bytes) !== null;
}

/** The codec that the first page of an Ogg file names, where a browser plays it. */
function isPlayedOgg(head: Uint8Array): boolean {
  const packet = letters(head, 28, 8);
  return /^(OpusHead|\x01vorbis|\x7fFLAC)/.test(packet);
}

/** @returns null for what no browser is expected to play */
export function mediaKind(head: Uint8Array): MediaKind | null {
  if (letters(head, 0, 4) === 'RIFF' && letters(head, 8, 4) === 'WAVE') return 'wav';
  if (letters(head, 0, 4) === 'fLaC') return 'flac';
  if (letters(head, 0, 4) === 'OggS') return isPlayedOgg(head) ? 'ogg' : null;
  if (ebmlType(head) === 'webm') return 'webm';
  if (brandsOf(head).some((brand) => PLAYED_BRANDS.test(brand))) return 'mp4';
  return isMp3(head) ? 'mp3' : null;
}

const ASF = [0x30, 0x26, 0xb2, 0x75];

/** What a file that is not taken seems to be, in words. */
function seemsToBe(head: Uint8Array): string {
  const start = letters(head, 0, 4);
  if (head.length === 0) return 'is empty';
  if (start === 'RIFF' && letters(head, 8, 3) === 'AVI') return 'is an AVI file';
  if (start === 'RF64') return 'is a WAV file in its form for more than 4 GB';
  if (start === 'FORM') return 'is an AIFF file';
  if (start === 'OggS') return 'is an Ogg file without Opus, Vorbis or FLAC in it';
  if (ebmlType(head) !== null) return 'is a Matroska file and not WebM';
  if (brandsOf(head).includes('qt  ')) return 'is a QuickTime file';
  if (ASF.every((byte, at) => head[at] === byte)) return 'is a Windows Media file';
  const isText = [...head.subarray(0, 512)].every((byte) => byte >= 9 && byte !== 0x7f);
  return isText ? 'begins like a text' : 'does not begin like any of these';
}

/** Why a file is not taken as a recording: what it was found to be, and what is expected. */
export function mediaRefusal(name: string, head: Uint8Array): string {
  return `"${name}" ${seemsToBe(head)}. WAV, MP3, MP4 or M4A, Ogg (Opus, Vorbis, FLAC), WebM and FLAC are taken, by what is in the file and not by its name; nothing is converted here.`;
}
