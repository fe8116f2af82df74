/**
 * A UTF-8 copy with line feeds, for the sources that DuckDB's reader would refuse as they are:
 * another encoding, line ends of more than one kind, runs of spaces between cells, rows that leave
 * out cells at their end, line ends in the header's cells (it would skip the row below, too). Lines keep their numbers.
 */
import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import type { Dialect } from '@/lib/core/intake/dialect';
import { COMMENT } from '@/lib/core/intake/find-table';
import { cellsOf } from '@/lib/core/intake/fixed-columns';
import { opensACell } from '@/lib/core/intake/split-lines';
import type { SourceScan } from './source-scan';

/** How a source is written: its encoding for TextDecoder, and its dialect. */
export type Writing = Readonly<{ encoding: string; dialect: Dialect }>;

/** True where rows have to be written anew before they are taken apart. */
function hasRowsToMend(dialect: Dialect): boolean {
  return dialect.separator === ' ' || dialect.leastCells < dialect.columns.length;
}

/** True where a cell above the rows goes on over the end of its line. */
function hasOpenHeader({ head }: SourceScan, { rowsAfterLine }: Dialect): boolean {
  const lines = head.toString('latin1').split('\n', rowsAfterLine);
  return lines.some((line) => opensACell(line.replace(/\r$/, '')));
}

/** True when DuckDB may read the source itself. */
export function isPlain(scan: SourceScan, { encoding, dialect }: Writing): boolean {
  const isText = encoding === 'utf-8' && scan.encoding === 'utf-8' && scan.lineEnds !== 'mixed';
  return isText && !hasRowsToMend(dialect) && !hasOpenHeader(scan, dialect);
}

/** The dialect of the copy. */
export function plainDialect(dialect: Dialect): Dialect {
  return dialect.separator === ' ' ? { ...dialect, separator: '\t' } : dialect;
}

function writeCell(cell: string, separator: string): string {
  return cell.includes(separator) || cell.includes('"') ? `"${cell.replaceAll('"', '""')}"` : cell;
}

/**
 * Writes rows anew, line by line; a row whose quote reaches over lines stays as it is. What stands
 * above the rows loses its quotes, so that each line of it is one.
 */
function makeRowMender(dialect: Dialect): (line: string) => string {
  const { separator } = plainDialect(dialect);
  const mends = hasRowsToMend(dialect);
  let inQuotes = false;
  let lineNumber = 0;
  return (line) => {
    lineNumber += 1;
    if (lineNumber <= dialect.rowsAfterLine) return line.replaceAll('"', '');
    if (!mends) return line;
    const opens = (line.match(/"/g)?.length ?? 0) % 2 === 1;
    const isWhole = !inQuotes && !opens;
    if (opens) inQuotes = !inQuotes;
    if (!isWhole || COMMENT.test(line)) return line;
    const cells = line.trim() === '' ? [] : (cellsOf(line, dialect) ?? []);
    if (cells.length === 0) return '';
    const lacking = dialect.columns.length - cells.length;
    const padding = cells.length >= dialect.leastCells && lacking > 0 ? lacking : 0;
    return `${cells.map((cell) => writeCell(cell, separator)).join(separator)}${separator.repeat(padding)}`;
  };
}

/** Takes text as it comes and gives it back with line feeds, in whole lines as long as they are mended. */
function makeLineWriter(dialect: Dialect): (text: string, part: 'more' | 'last') => string {
  const mend = makeRowMender(dialect);
  const mends = hasRowsToMend(dialect);
  let linesAbove = dialect.rowsAfterLine;
  let carry = '';
  return (text, part) => {
    let whole = carry + text;
    carry = '';
    if (part === 'more' && whole.endsWith('\r')) {
      // A carriage return at the very end may be half of a line end.
      carry = '\r';
      whole = whole.slice(0, -1);
    }
    const plain = whole.replace(/\r\n?/g, '\n');
    if (!mends && linesAbove <= 0) return plain;
    const end = part === 'last' ? plain.length : plain.lastIndexOf('\n') + 1;
    carry = plain.slice(end) + carry;
    const lines = plain.slice(0, end).split('\n');
    linesAbove -= lines.length - 1;
    return lines.map(mend).join('\n');
  };
}

/** Writes the copy. An abort stops it. */
export async function writePlainCopy(
  source: string,
  target: string,
  { encoding, dialect, signal }: Writing & Readonly<{ signal: AbortSignal | undefined }>,
): Promise<void> {
  const decoder = new TextDecoder(encoding);
  const write = makeLineWriter(dialect);
  const out = await open(target, 'wx');
  try {
    for await (const block of createReadStream(source, { highWaterMark: 1 << 20 })) {
      signal?.throwIfAborted();
      await out.write(write(decoder.decode(block, { stream: true }), 'more'));
    }
    await out.write(write(decoder.decode(), 'last'));
  } finally {
    await out.close();
  }
}
