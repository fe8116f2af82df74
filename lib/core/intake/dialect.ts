/** How a delimited file is written: separator, decimal mark, header line, found by reading. */
import type { Issue, Parsed } from '../result';
import type { DialectSpec } from '../session/session-file';
import { BINARY, fileSignature, SIGNATURE_BYTES } from './file-signature';
import { splitCells, splitLines } from './split-lines';

/** `headerLine` is 1-based; the rows start on the line after it. `columns` are the header's names. */
export type Dialect = Readonly<{
  separator: string;
  decimal: '.' | ',';
  quote: string;
  headerLine: number;
  columns: string[];
}>;

/** Separators that are tried where none is stated, the more usual first. */
export const SEPARATORS = [',', ';', '\t', '|'] as const;

const NUMBER = /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?$|^[+-]?(?:nan|inf|infinity)$/i;
const COMMENT = /^\s*(?:#|%|\/\/)/;

/** True for text that a column of numbers could hold. */
function isNumber(cell: string): boolean {
  return NUMBER.test(cell.trim());
}

type Table = Readonly<{
  separator: string;
  /** Index of the first line of the table among all lines. */
  first: number;
  /** Cells of the table's lines; null where the line does not belong (a comment, another count). */
  rows: readonly (readonly string[] | null)[];
  width: number;
  /** How many lines have the table's width. */
  count: number;
}>;

/** The widest run of lines of one cell count, for one separator; null where no line is split. */
function findTable(lines: readonly string[], separator: string): Table | null {
  const rows = lines.map((line) =>
    line.trim() === '' || COMMENT.test(line) ? null : splitCells(line, separator),
  );
  const counts = new Map<number, number>();
  for (const row of rows) {
    if (row !== null && row.length > 1) counts.set(row.length, (counts.get(row.length) ?? 0) + 1);
  }
  let width = 0;
  for (const [length, count] of counts) {
    const best = counts.get(width) ?? 0;
    if (count > best || (count === best && length > width)) width = length;
  }
  if (width === 0) return null;
  const first = rows.findIndex((row) => row?.length === width);
  return {
    separator,
    first,
    rows: rows.map((row) => (row?.length === width ? row : null)),
    width,
    count: counts.get(width) ?? 0,
  };
}

/** The separator that splits the most lines alike; of equals, the one with more columns. */
function bestTable(lines: readonly string[], separators: readonly string[]): Table | null {
  let best: Table | null = null;
  for (const separator of separators) {
    const table = findTable(lines, separator);
    if (table === null) continue;
    const isBetter =
      best === null ||
      score(table) > score(best) ||
      (score(table) === score(best) && table.width > best.width);
    if (isBetter) best = table;
  }
  return best;
}

/** Lines that fit; a header of names first counts for more than a table without one. */
function score(table: Table): number {
  const header = table.rows[table.first] ?? [];
  const hasNames = header.every((cell) => !isNumber(cell));
  return table.count * (hasNames ? 2 : 1);
}

/** Decimal comma where cells read as numbers with it and none reads with a point. */
function findDecimal(table: Table): '.' | ',' {
  const cells = table.rows.slice(table.first + 1).flatMap((row) => row ?? []);
  const numbers = cells.filter(isNumber);
  const withComma = numbers.some((cell) => cell.includes(','));
  const withPoint = numbers.some((cell) => cell.includes('.'));
  return withComma && !withPoint ? ',' : '.';
}

/** A header written as a comment just above the rows: `# time,x,y`. */
function commentedHeader(
  lines: readonly string[],
  table: Table,
): Readonly<{ line: number; cells: readonly string[] }> | null {
  for (let index = table.first - 1; index >= 0; index -= 1) {
    const line = lines[index] ?? '';
    if (line.trim() === '') continue;
    if (!COMMENT.test(line)) return null;
    const cells = splitCells(line.replace(COMMENT, ''), table.separator);
    return cells?.length === table.width ? { line: index + 1, cells } : null;
  }
  return null;
}

/** A table has at least this share of the lines, so that a comma in prose is no table. */
const LEAST_SHARE = 0.2;

function refuse(issue: Omit<Issue, 'severity'>): Parsed<Dialect> {
  return { value: null, issues: [{ severity: 'error', ...issue }] };
}

/** Names of the header: trimmed, an empty one numbered; a name given twice is an error. */
function readHeader(
  cells: readonly string[],
  line: number,
): Readonly<{ columns: string[]; issues: Issue[] }> {
  const issues: Issue[] = [];
  const columns = cells.map((cell, index) => {
    if (cell.trim() !== '') return cell.trim();
    const name = `column ${index + 1}`;
    issues.push({
      code: 'header-empty',
      severity: 'warning',
      line,
      message: `column ${index + 1} of the header has no name; it is called "${name}"`,
    });
    return name;
  });
  columns.forEach((name, index) => {
    const before = columns.indexOf(name);
    if (before === index) return;
    issues.push({
      code: 'header-duplicate',
      severity: 'error',
      line,
      message: `the header names "${name}" twice, columns ${before + 1} and ${index + 1}`,
      expected: 'each name once',
      received: name,
    });
  });
  return { columns, issues };
}

/**
 * Finds the dialect of a delimited file with a header line.
 *
 * Comment lines (`#`, `%`, `//`) and a preamble before the table are skipped. Among the separators
 * comma, semicolon, tab and pipe the one that splits the most lines into the same number of cells
 * wins. A decimal comma is taken where numbers carry it and none carries a point.
 *
 * @param head the first part of the file as text, some hundred lines; its last line may be cut off
 * @param stated what the session file says, which wins over what is found
 * @returns the dialect; null where there is no table with a header, a name stands twice in it, or
 *   the file is no text
 */
export function detectDialect(head: string, stated: DialectSpec): Parsed<Dialect> {
  const signature = fileSignature(head.slice(0, SIGNATURE_BYTES));
  if (signature !== null || head.slice(0, 4096).includes('\u0000')) {
    const found = signature ?? BINARY;
    const message = `must be delimited text, found ${found}`;
    return refuse({ code: 'not-text', message, expected: 'delimited text', received: found });
  }
  const allLines = splitLines(head);
  if (allLines.every((line) => line.trim() === '')) {
    return refuse({ code: 'file-empty', message: 'the file holds nothing' });
  }
  // The last line of a head may be cut; it says nothing that the others do not.
  const lines = allLines.length > 3 && !/[\r\n]$/.test(head) ? allLines.slice(0, -1) : allLines;
  const separators = stated.separator === null ? SEPARATORS : [stated.separator];
  const table = bestTable(lines, separators);
  const filled = lines.filter((line) => line.trim() !== '' && !COMMENT.test(line)).length;
  if (table === null || table.count < LEAST_SHARE * filled) {
    const tried =
      stated.separator === null ? 'comma, semicolon, tab or pipe' : `"${stated.separator}"`;
    return refuse({
      code: 'no-table',
      line: 1,
      message: `holds no table with columns separated by ${tried}`,
      expected: 'a header line and rows of at least two columns',
      received: (lines[0] ?? '').slice(0, 60),
    });
  }
  return readTable(lines, table, stated);
}

/** Names just above the rows, but more or fewer of them than the rows have cells. */
function otherWidth(lines: readonly string[], table: Table): Omit<Issue, 'severity'> | null {
  for (let index = table.first - 1; index >= 0; index -= 1) {
    const line = lines[index] ?? '';
    if (line.trim() === '') continue;
    const cells = splitCells(line.replace(COMMENT, ''), table.separator);
    if (cells === null || cells.length < 2 || cells.some(isNumber)) return null;
    const hint =
      table.separator === ',' && table.width > 1.5 * cells.length
        ? '; decimal commas need another separator than the comma'
        : '';
    return {
      code: 'header-width',
      line: index + 1,
      message: `the header has ${cells.length} names, the rows have ${table.width} cells${hint}`,
      expected: `${table.width} names`,
      received: `${cells.length} names`,
    };
  }
  return null;
}

function readTable(lines: readonly string[], table: Table, stated: DialectSpec): Parsed<Dialect> {
  const firstRow = table.rows[table.first] ?? [];
  const isHeader =
    firstRow.every((cell) => !isNumber(cell)) && firstRow.some((cell) => cell.trim() !== '');
  const header = isHeader
    ? { line: table.first + 1, cells: firstRow }
    : commentedHeader(lines, table);
  if (header === null) {
    const widths = otherWidth(lines, table);
    if (widths !== null) return refuse(widths);
    return refuse({
      code: 'header-missing',
      line: table.first + 1,
      message: `the first row has numbers where the names of the columns are expected: ${firstRow.slice(0, 4).join(' ')}`,
      expected: 'a header line with the names of the columns',
      received: firstRow.slice(0, 4).join(' '),
    });
  }
  const { columns, issues } = readHeader(header.cells, header.line);
  if (issues.some((issue) => issue.severity === 'error')) return { value: null, issues };
  return {
    value: {
      separator: table.separator,
      decimal: stated.decimal ?? findDecimal(table),
      quote: '"',
      headerLine: header.line,
      columns,
    },
    issues,
  };
}
