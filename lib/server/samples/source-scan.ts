/**
 * One reading of a source file's bytes before DuckDB sees it: SHA-256, encoding, line ends, and the
 * few facts that decide how the data pass has to go.
 */
import { isAscii, isUtf8 } from 'node:buffer';
import { createHash } from 'node:crypto';
import { open } from 'node:fs/promises';
import { blockBytes } from './read-blocks';

const BLOCK_BYTES = 4 * 1024 * 1024;
export const HEAD_BYTES = 256 * 1024;
const START_BYTES = 4096;
const LF = 0x0a;
const CR = 0x0d;

export type LineEnds = 'lf' | 'crlf' | 'mixed';
export type TextEncoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'other';

export type SourceScan = Readonly<{
  bytes: number;
  sha256: string;
  /** By byte order mark, else by whether the bytes are valid UTF-8. */
  encoding: TextEncoding;
  lineEnds: LineEnds;
  /** Lines with at least one character. */
  filledLines: number;
  longestLineBytes: number;
  /** No byte over 127: in UTF-8 every character is one byte. */
  isAscii: boolean;
  hasQuote: boolean;
  /** The letter n occurs after the first line: only then can a cell be NaN or inf. */
  hasLetterN: boolean;
  /** First bytes of the file, cut after a line end where there is one. */
  head: Buffer;
  /** The very first bytes, uncut: they show the form, also of XML that is one line without an end. */
  start: Buffer;
  /** One line from each block, to try stamps on; the file's own text, undecoded. */
  sampleLines: readonly string[];
}>;

/** Bytes looked at to see where the zero bytes stand. */
const ZEROS_LOOKED_AT = 1024;
/** Text that is mostly ASCII has a zero in nearly every unit of UTF-16, on one side of it. */
const MANY_ZEROS = 0.7;
const FEW_ZEROS = 0.05;

/** UTF-16 without a mark, by the side on which the zero bytes stand; null where they tell nothing. */
function encodingByZeros(block: Buffer): TextEncoding | null {
  const units = Math.min(block.length, ZEROS_LOOKED_AT) >> 1;
  if (units === 0) return null;
  let [first, second] = [0, 0];
  for (let unit = 0; unit < units; unit += 1) {
    if (block[2 * unit] === 0) first += 1;
    if (block[2 * unit + 1] === 0) second += 1;
  }
  if (second > MANY_ZEROS * units && first < FEW_ZEROS * units) return 'utf-16le';
  return first > MANY_ZEROS * units && second < FEW_ZEROS * units ? 'utf-16be' : null;
}

function encodingByMark(block: Buffer): TextEncoding {
  if (block[0] === 0xff && block[1] === 0xfe) return 'utf-16le';
  if (block[0] === 0xfe && block[1] === 0xff) return 'utf-16be';
  return encodingByZeros(block) ?? 'utf-8';
}

/** Encoding of whole lines from the start of a file. */
export function encodingOfHead(head: Buffer): TextEncoding {
  const marked = encodingByMark(head);
  return marked === 'utf-8' && !isUtf8(head) ? 'other' : marked;
}

/** Bytes of text as characters; a mark at their start goes, and what is no character becomes U+FFFD. */
export function decodeText(bytes: Uint8Array, encoding: TextEncoding): string {
  return textDecoder(encoding).decode(bytes);
}

export function textDecoder(encoding: TextEncoding): TextDecoder {
  return new TextDecoder(encoding === 'other' ? 'utf-8' : encoding);
}

/** Counts lines and line ends over blocks that cut lines anywhere. */
class LineCounter {
  filledLines = 0;
  longestLineBytes = 0;
  private lf = 0;
  private crlf = 0;
  private bareCr = false;
  private lineBytes = 0;
  private lastByte = LF;

  add(block: Buffer): void {
    const hasCr = block.includes(CR) || this.lastByte === CR;
    let start = 0;
    for (let end = block.indexOf(LF); end >= 0; end = block.indexOf(LF, start)) {
      let length = this.lineBytes + end - start;
      if (hasCr && (end > 0 ? block[end - 1] : this.lastByte) === CR) {
        this.crlf += 1;
        length -= 1;
      } else this.lf += 1;
      if (length > 0) this.filledLines += 1;
      if (length > this.longestLineBytes) this.longestLineBytes = length;
      this.lineBytes = 0;
      start = end + 1;
    }
    this.lineBytes += block.length - start;
    if (hasCr && !this.bareCr) this.bareCr = hasBareCr(block);
    this.lastByte = block[block.length - 1] ?? this.lastByte;
  }

  finish(): LineEnds {
    if (this.lineBytes > 0) this.filledLines += 1;
    this.longestLineBytes = Math.max(this.longestLineBytes, this.lineBytes);
    if (this.bareCr || (this.crlf > 0 && this.lf > 0)) return 'mixed';
    return this.crlf > 0 ? 'crlf' : 'lf';
  }
}

function hasBareCr(block: Buffer): boolean {
  for (let at = block.indexOf(CR); at >= 0; at = block.indexOf(CR, at + 1)) {
    if (at + 1 < block.length && block[at + 1] !== LF) return true;
  }
  return false;
}

function wholeLines(block: Buffer): Buffer {
  const end = block.lastIndexOf(LF);
  return end < 0 ? block : block.subarray(0, end + 1);
}

/** The first whole line after the middle of a block; empty where there is none. */
function lineInside(block: Buffer): string {
  const start = block.indexOf(LF, block.length >> 1) + 1;
  const end = block.indexOf(LF, start);
  return start === 0 || end < 0 ? '' : block.toString('latin1', start, end).replace(/\r$/, '');
}

export type ScanHooks = Readonly<{
  onBytes?: (bytesDone: number, bytesTotal: number) => void;
  signal?: AbortSignal | undefined;
}>;

/** Reads the whole file once. Throws what the file system throws, and the reason of an abort. */
export async function scanSource(file: string, hooks: ScanHooks = {}): Promise<SourceScan> {
  const handle = await open(file, 'r');
  try {
    const { size } = await handle.stat();
    const hash = createHash('sha256');
    const lines = new LineCounter();
    const sampleLines: string[] = [];
    const buffer = Buffer.allocUnsafe(blockBytes(size, BLOCK_BYTES));
    let head = Buffer.alloc(0);
    let start = Buffer.alloc(0);
    let encoding: TextEncoding = 'utf-8';
    let bytes = 0;
    let cut = Buffer.alloc(0);
    let hasOnlyAscii = true;
    let hasQuote = false;
    let hasLetterN = false;
    for (;;) {
      hooks.signal?.throwIfAborted();
      const { bytesRead } = await handle.read(buffer, 0, buffer.length, bytes);
      if (bytesRead === 0) break;
      const block = buffer.subarray(0, bytesRead);
      hash.update(block);
      if (bytes === 0) {
        encoding = encodingByMark(block);
        head = Buffer.from(wholeLines(block.subarray(0, HEAD_BYTES)));
        start = Buffer.from(block.subarray(0, START_BYTES));
      }
      const firstData = bytes === 0 ? block.indexOf(LF) + 1 : 0;
      hasOnlyAscii &&= isAscii(block);
      hasQuote ||= block.includes(0x22);
      hasLetterN ||= block.includes(0x6e, firstData) || block.includes(0x4e, firstData);
      lines.add(block);
      const line = lineInside(block);
      if (line !== '') sampleLines.push(line);
      bytes += bytesRead;
      if (encoding === 'utf-8') {
        // A character cut by the block's end is judged with the next block.
        const whole = wholeLines(block);
        const ends = whole.length < block.length || block[block.length - 1] === LF;
        const text = cut.length === 0 ? whole : Buffer.concat([cut, whole]);
        cut = ends ? Buffer.from(block.subarray(whole.length)) : Buffer.alloc(0);
        if (!isUtf8(text)) encoding = 'other';
      }
      hooks.onBytes?.(bytes, size);
    }
    if (encoding === 'utf-8' && cut.length > 0 && !isUtf8(cut)) encoding = 'other';
    return {
      bytes,
      sha256: hash.digest('hex'),
      encoding,
      lineEnds: lines.finish(),
      filledLines: lines.filledLines,
      longestLineBytes: lines.longestLineBytes,
      isAscii: hasOnlyAscii,
      hasQuote,
      hasLetterN,
      head,
      start,
      sampleLines,
    };
  } finally {
    await handle.close();
  }
}
