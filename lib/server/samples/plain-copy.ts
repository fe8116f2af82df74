/**
 * A UTF-8 copy with line feeds, for the sources that DuckDB's reader would refuse as they are:
 * another encoding, line ends of more than one kind, runs of spaces between cells, rows that leave
 * out cells at their end, line ends in the header's cells (it would skip the row below, too), lines of
 * very many cells (it keeps the whole line for each cell too many), rows of more than ASCII that are
 * longer than what it keeps of a refused one. Lines keep their numbers.
 */
import { open } from 'node:fs/promises';
import type { Dialect } from '@/lib/core/intake/dialect';
import { COMMENT } from '@/lib/core/intake/find-table';
import { cellsOf } from '@/lib/core/intake/fixed-columns';
import { endsInQuotes, opensACell } from '@/lib/core/intake/split-lines';
import { readBlocks } from './read-blocks';
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
/** A row over this is none. */
const MOST_OF_ROW = 500_000;
/** DuckDB keeps so many bytes of a refused row, and throws where that cuts a character in two. */
const KEPT_OF_REFUSED_BYTES = 10_000;
/** A character of UTF-16 or of one byte is at most so many in UTF-8. */
const MOST_OF_UNIT_BYTES = 3;
/** So much of each cell stays of a long line that is no row, and so many cells beyond the columns. */
const KEPT_OF_CELL = 100;
const KEPT_BEYOND = 2;
/** So much of a line is held at most; DuckDB refuses half of that as too long. */
const MOST_OF_LINE = 4 * 1024 * 1024;

/** What a scan says of the rows: how long they are, and of what characters. */
type Rows = Pick<SourceScan, 'encoding' | 'isAscii' | 'longestLineBytes' | 'hasQuote' | 'bytes'>;

/** True where a row may be too long to go to DuckDB unlooked at. */
function hasLongRows({ encoding, isAscii, longestLineBytes, hasQuote, bytes }: Rows): boolean {
  if (isAscii && encoding === 'utf-8') return longestLineBytes > LONG_LINE_BYTES;
  // With quotes a row may go on over many lines.
  const longestRowBytes = hasQuote ? bytes : longestLineBytes;
  const unitBytes = encoding === 'utf-8' ? 1 : MOST_OF_UNIT_BYTES;
  return unitBytes * longestRowBytes > KEPT_OF_REFUSED_BYTES;
}

/** True when DuckDB may read the source itself. */
export function isPlain(scan: SourceScan, { encoding, dialect }: Writing): boolean {
  const isText = encoding === 'utf-8' && scan.encoding === 'utf-8' && scan.lineEnds !== 'mixed';
  const isShort = !hasLongRows(scan);
  return isText && isShort && !hasRowsToMend(dialect) && !hasOpenHeader(scan, dialect);
}

/** The dialect of the copy. */
export function plainDialect(dialect: Dialect): Dialect {
  return dialect.separator === ' ' ? { ...dialect, separator: '\t' } : dialect;
}

function writeCell(cell: string, separator: string): string {
  const isBare = !cell.includes(separator) && !cell.includes('"') && !cell.includes('\n');
  return isBare ? cell : `"${cell.replaceAll('"', '""')}"`;
}

/** A long row with too many cells or too few, or too long a one, is none: as much as shows that stays. */
function boundRow(row: string, dialect: Dialect): string {
  if (row.length <= LONG_LINE_BYTES / 2) return row; // a character may be two bytes and more
  const cells = row.includes('"') ? (cellsOf(row, dialect) ?? []) : row.split(dialect.separator);
  const most = dialect.columns.length;
  const fits = cells.length >= dialect.leastCells && cells.length <= most;
  if (fits && row.length <= MOST_OF_ROW) return row;
  const kept = cells.slice(0, most + KEPT_BEYOND).map((cell) => cell.slice(0, KEPT_OF_CELL));
  // Not empty, since empty cells at the end are let be.
  const excess = fits ? `${dialect.separator}…`.repeat(most + KEPT_BEYOND - kept.length) : '';
  return `${kept.join(dialect.separator).replaceAll(/["\n]/g, '')}${excess}`;
}

/** A row with as many cells as the table has columns, where it only ends early. */
function mendRow(row: string, dialect: Dialect): string {
  if (row.trim() === '') return '';
  const cells = cellsOf(row, dialect);
  if (cells === null || cells.length === 0) return row;
  const plain = plainDialect(dialect);
  const lacking = dialect.columns.length - cells.length;
  const padding = cells.length >= dialect.leastCells && lacking > 0 ? lacking : 0;
  const kept = cells.slice(0, dialect.columns.length + KEPT_BEYOND);
  const { separator } = plain;
  const written = kept.map((cell) => writeCell(cell, separator)).join(separator);
  return boundRow(`${written}${separator.repeat(padding)}`, plain);
}

/** True of what DuckDB throws when it cut a character all the same: a row began where no row was seen. */
export function isCutCharacter(error: unknown): boolean {
  return error instanceof Error && error.message.includes('byte sequence mismatch');
}

const isInsideCharacter = (byte: number | undefined): boolean =>
  byte !== undefined && (byte & 0xc0) === 0x80;

/** The row with spaces in place of the one character that would be cut if the row is refused. */
function keepCharacterWhole(row: string): string {
  if (row.length * MOST_OF_UNIT_BYTES <= KEPT_OF_REFUSED_BYTES) return row;
  const bytes = Buffer.from(row);
  if (!isInsideCharacter(bytes[KEPT_OF_REFUSED_BYTES])) return row;
  let [start, end] = [KEPT_OF_REFUSED_BYTES, KEPT_OF_REFUSED_BYTES];
  while (isInsideCharacter(bytes[start])) start -= 1;
  while (isInsideCharacter(bytes[end])) end += 1;
  return bytes.fill(' ', start, end).toString();
}

/** Lines in a quote that nothing closes: one row to DuckDB, or each by itself. */
function boundLines(lines: readonly string[]): readonly string[] {
  const short = lines.map((line) =>
    line.length <= LONG_LINE_BYTES / 2 ? keepCharacterWhole(line) : line.slice(0, KEPT_OF_CELL),
  );
  return keepCharacterWhole(short.join('\n')).split('\n');
}

/** The lines of one row written anew; as many as it had, so that those after it keep their numbers. */
function mendLines(lines: readonly string[], dialect: Dialect): readonly string[] {
  const row = lines.join('\n');
  const mended = hasRowsToMend(dialect) ? mendRow(row, dialect) : boundRow(row, dialect);
  const whole = keepCharacterWhole(mended);
  const blank = lines.length - mended.split('\n').length;
  return blank > 0 ? [whole, ...Array.from({ length: blank }, () => '')] : [whole];
}

type RowMender = Readonly<{
  /** @returns the lines that are done; none while a quoted cell goes on */
  add: (line: string) => readonly string[];
  /** The lines of a row that never ended. */
  rest: () => readonly string[];
}>;

/**
 * Writes rows anew, each with the lines that its quoted cells go on in; a quote that nothing closes
 * within the longest row leaves the lines as they are. What stands above the rows loses its quotes,
 * so that each line of it is one.
 */
function makeRowMender(dialect: Dialect, below: 'mended' | 'as they are'): RowMender {
  const { separator, rowsAfterLine } = dialect;
  let held: string[] = [];
  let heldLength = 0;
  let isLost = false;
  let lineNumber = 0;
  const isOpenAfter = (line: string, before: boolean) =>
    endsInQuotes(separator === ' ' ? line.replaceAll('\t', ' ') : line, separator, before);
  const add = (line: string): readonly string[] => {
    lineNumber += 1;
    if (lineNumber <= rowsAfterLine) return [line.replaceAll('"', '')];
    if (below === 'as they are') return [line];
    if (isLost) {
      isLost = isOpenAfter(line, true);
      return boundLines([line]);
    }
    if (held.length === 0 && COMMENT.test(line)) return [line];
    const isOpen = isOpenAfter(line, held.length > 0);
    held.push(line);
    heldLength += line.length;
    if (isOpen && heldLength <= MOST_OF_ROW) return [];
    const lines = held;
    held = [];
    heldLength = 0;
    isLost = isOpen;
    return isOpen ? boundLines(lines) : mendLines(lines, dialect);
  };
  return { add, rest: () => boundLines(held) };
}

/** Takes text as it comes and gives it back with line feeds, in whole lines where rows are looked at. */
function makeLineWriter(
  dialect: Dialect,
  scanned: Rows,
): (text: string, part: 'more' | 'last') => string {
  const looksAtRows = hasRowsToMend(dialect) || hasLongRows(scanned);
  const rows = makeRowMender(dialect, looksAtRows ? 'mended' : 'as they are');
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
    if (end === 0) return part === 'last' ? rows.rest().join('\n') : '';
    // What ends with a line end splits into its lines and an empty rest, which is no line.
    const lines = plain.slice(0, end).split('\n');
    if (part === 'more') lines.pop();
    linesAbove -= lines.length;
    const done = lines.flatMap(rows.add);
    if (part === 'last') return [...done, ...rows.rest()].join('\n');
    return done.map((line) => `${line}\n`).join('');
  };
}

/** Writes the copy. An abort stops it. */
export async function writePlainCopy(
  source: string,
  target: string,
  options: Writing & Readonly<{ scanned: Rows; signal: AbortSignal | undefined }>,
): Promise<void> {
  const { encoding, dialect, scanned, signal } = options;
  const decoder = new TextDecoder(encoding);
  const write = makeLineWriter(dialect, scanned);
  const out = await open(target, 'wx');
  try {
    for await (const block of await readBlocks(source, { mostBytes: 1 << 20 })) {
      signal?.throwIfAborted();
      await out.write(write(decoder.decode(block, { stream: true }), 'more'));
    }
    await out.write(write(decoder.decode(), 'last'));
  } finally {
    await out.close();
  }
}
