/**
 * A UTF-8 copy with line feeds, for the sources that DuckDB's reader would refuse as they are:
 * another encoding, line ends of more than one kind, runs of spaces between cells, rows that leave
 * out cells at their end, line ends in the header's cells (it would skip the row below, too), lines of
 * very many cells (it keeps the whole line for each cell too many). Lines keep their numbers.
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

/** A line over this is looked at before DuckDB gets it: 2,000 columns of usual numbers are shorter. */
const LONG_LINE_BYTES = 64 * 1024;
/** A row over this is none for DuckDB, which cuts it anywhere, through a character too. */
const MOST_OF_ROW = 500_000;
/** So much of each cell stays of a long line that is no row, and so many cells beyond the columns. */
const KEPT_OF_CELL = 100;
const KEPT_BEYOND = 2;
/** So much of a line is held at most; DuckDB refuses half of that as too long. */
const MOST_OF_LINE = 4 * 1024 * 1024;

/** True when DuckDB may read the source itself. */
export function isPlain(scan: SourceScan, { encoding, dialect }: Writing): boolean {
  const isText = encoding === 'utf-8' && scan.encoding === 'utf-8' && scan.lineEnds !== 'mixed';
  const isShort = scan.longestLineBytes <= LONG_LINE_BYTES;
  return isText && isShort && !hasRowsToMend(dialect) && !hasOpenHeader(scan, dialect);
}

/** The dialect of the copy. */
export function plainDialect(dialect: Dialect): Dialect {
  return dialect.separator === ' ' ? { ...dialect, separator: '\t' } : dialect;
}

function writeCell(cell: string, separator: string): string {
  return cell.includes(separator) || cell.includes('"') ? `"${cell.replaceAll('"', '""')}"` : cell;
}

/** A long line with too many cells or too few, or too long a one, is no row: as much as shows that stays. */
function boundLine(line: string, dialect: Dialect): string {
  if (line.length <= LONG_LINE_BYTES / 2) return line; // a character may be two bytes and more
  const quotes = line.match(/"/g)?.length ?? 0;
  if (quotes % 2 === 1) return line; // a cell of it goes on over the line's end
  const cells = quotes === 0 ? line.split(dialect.separator) : (cellsOf(line, dialect) ?? []);
  const most = dialect.columns.length;
  const fits = cells.length >= dialect.leastCells && cells.length <= most;
  if (fits && line.length <= MOST_OF_ROW) return line;
  const kept = cells.slice(0, most + KEPT_BEYOND).map((cell) => cell.slice(0, KEPT_OF_CELL));
  // Not empty, since empty cells at the end are let be.
  const excess = fits ? `${dialect.separator}…`.repeat(most + KEPT_BEYOND - kept.length) : '';
  return `${kept.join(dialect.separator).replaceAll('"', '')}${excess}`;
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
    if (!mends) return boundLine(line, dialect);
    const opens = (line.match(/"/g)?.length ?? 0) % 2 === 1;
    const isWhole = !inQuotes && !opens;
    if (opens) inQuotes = !inQuotes;
    if (!isWhole || COMMENT.test(line)) return line;
    const cells = line.trim() === '' ? [] : (cellsOf(line, dialect) ?? []);
    if (cells.length === 0) return '';
    const lacking = dialect.columns.length - cells.length;
    const padding = cells.length >= dialect.leastCells && lacking > 0 ? lacking : 0;
    const kept = cells.slice(0, dialect.columns.length + KEPT_BEYOND);
    return `${kept.map((cell) => writeCell(cell, separator)).join(separator)}${separator.repeat(padding)}`;
  };
}

/** Takes text as it comes and gives it back with line feeds, in whole lines where rows are looked at. */
function makeLineWriter(
  dialect: Dialect,
  longestLineBytes: number,
): (text: string, part: 'more' | 'last') => string {
  const mend = makeRowMender(dialect);
  const looksAtRows = hasRowsToMend(dialect) || longestLineBytes > LONG_LINE_BYTES;
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
    if (!looksAtRows && linesAbove <= 0) return plain;
    const end = part === 'last' ? plain.length : plain.lastIndexOf('\n') + 1;
    carry = plain.slice(end, end + MOST_OF_LINE) + carry;
    if (end === 0) return '';
    // What ends with a line end splits into its lines and an empty rest, which is no line.
    const lines = plain.slice(0, end).split('\n');
    const rest = part === 'last' ? [] : [lines.pop() ?? ''];
    linesAbove -= lines.length;
    return [...lines.map(mend), ...rest].join('\n');
  };
}

/** Writes the copy. An abort stops it. */
export async function writePlainCopy(
  source: string,
  target: string,
  options: Writing & Readonly<{ longestLineBytes: number; signal: AbortSignal | undefined }>,
): Promise<void> {
  const { encoding, dialect, longestLineBytes, signal } = options;
  const decoder = new TextDecoder(encoding);
  const write = makeLineWriter(dialect, longestLineBytes);
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
