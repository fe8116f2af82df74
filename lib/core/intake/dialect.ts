/** How a delimited file is written: separator, decimal mark, header line, found by reading. */
import type { Issue, Parsed } from '../result';
import type { DialectSpec } from '../session/session-file';
import { BINARY, findSignature, SIGNATURE_BYTES } from './file-signature';
import { bestTable, COMMENT, findDecimal, startsWithNames, type Table } from './find-table';
import { type Field, type FixedTable, findFixedTable, namesOverWords } from './fixed-columns';
import {
  evenHeader,
  findUnitsRow,
  type HeaderLine,
  mendedHeader,
  openHeader,
  readNames,
  unevenHeader,
} from './read-header';
import { shownCell } from './shown-cell';
import { joinQuoted, splitCells, splitLines } from './split-lines';

/**
 * `headerLine` is 1-based; rows start on the line after `rowsAfterLine`, which is the header's or
 * that of the units under it. `columns` are the header's names, each once.
 */
export type Dialect = Readonly<{
  /** A space stands for any run of spaces and tabs. */
  separator: string;
  decimal: '.' | ',';
  quote: string;
  headerLine: number;
  rowsAfterLine: number;
  columns: string[];
  /** Names of the header that stand for more than one column; `columns` tells them apart. */
  repeated: string[];
  /** Spellings from a row of units, by column; null where the file has no such row. */
  units: readonly (string | null)[] | null;
  /** A row has this many cells or more; what it lacks of the columns at its end is absent. */
  leastCells: number;
  /** Where the columns of a table in spaces stand; absent where that is not clear. */
  fields?: readonly Field[];
}>;

/** A table has at least this share of the lines, so that a comma in prose is no table. */
const LEAST_SHARE = 0.2;

function refuse(issue: Omit<Issue, 'severity'>): Parsed<Dialect> {
  return { value: null, issues: [{ severity: 'error', ...issue }] };
}

const EMPTY_IN_SPACES =
  'in columns parted by spaces an empty cell leaves open which one it is: put NaN there, keep the columns at fixed places, or write another separator';

/** Control characters that no text holds. */
const CONTROL = /[\u0000-\u0008\u000e-\u001a\u001c-\u001f]/;

/**
 * Finds the dialect of a delimited file with a header line.
 *
 * Comment lines (`#`, `%`, `//`) and a preamble before the table are skipped. Among the separators
 * comma, semicolon, tab and pipe, and then spaces, the one that splits the most lines into the same
 * number of cells wins. A decimal comma is taken where numbers carry it and none carries a point.
 *
 * @param head the first part of the file as text, some hundred lines; its last line may be cut off
 * @param stated what the session file says, which wins over what is found
 * @returns the dialect; null where there is no table with a header, or the file is no text
 */
export function detectDialect(head: string, stated: DialectSpec): Parsed<Dialect> {
  const signature = findSignature(head.slice(0, SIGNATURE_BYTES));
  if (signature !== null || CONTROL.test(head.slice(0, 4096))) {
    const found = signature?.name ?? BINARY;
    const instead = signature === null ? '' : `; ${signature.instead}`;
    const message = `must be delimited text, found ${found}${instead}`;
    return refuse({ code: 'not-text', message, expected: 'delimited text', received: found });
  }
  const allLines = splitLines(head);
  if (allLines.every((line) => line.trim() === '')) {
    return refuse({ code: 'file-empty', message: 'the file holds nothing' });
  }
  // The last line of a head may be cut; it says nothing that the others do not.
  const whole = allLines.length > 3 && !/[\r\n]$/.test(head) ? allLines.slice(0, -1) : allLines;
  const lines = joinQuoted(whole);
  const filled = lines.filter((line) => line.trim() !== '' && !COMMENT.test(line)).length;
  const table = bestTable(lines, stated.separator, LEAST_SHARE * filled);
  const fixed = mayBeFixed(table, stated) ? findFixedTable(lines) : null;
  if (fixed !== null && needsPlaces(fixed, lines)) return readFixed(fixed, stated);
  const namesLine = table === null && mayBeFixed(table, stated) ? namesOverWords(lines) : null;
  if (namesLine !== null) return refuse(placesFault(namesLine));
  if (table === null) {
    const tried =
      stated.separator === null ? 'comma, semicolon, tab, pipe or spaces' : `"${stated.separator}"`;
    return refuse({
      code: 'no-table',
      line: 1,
      message: `holds no table with columns separated by ${tried}`,
      expected: 'a header line and rows of at least two columns',
      received: (lines[0] ?? '').slice(0, 60),
    });
  }
  const read = readTable(lines, table, stated);
  const isAlike = fixed?.fields.length === read.value?.columns.length;
  if (read.value === null || fixed === null || !isAlike) return read;
  return { ...read, value: { ...read.value, fields: fixed.fields } };
}

/** Spaces are the separator, or no other has names over its columns. */
function mayBeFixed(table: Table | null, { separator }: DialectSpec): boolean {
  if (separator !== null) return separator === ' ';
  return table === null || table.separator === ' ' || !startsWithNames(table);
}

/** True where the words of some line are not one a column. */
function needsPlaces({ fields, headerLine, rows }: FixedTable, lines: readonly string[]): boolean {
  const names = splitCells((lines[headerLine - 1] ?? '').replace(COMMENT, ''), ' ') ?? [];
  return names.length !== fields.length || rows.some((cells) => cells.includes(''));
}

/** A table in spaces with empty cells, or with spaces in its names. */
function readFixed(fixed: FixedTable, stated: DialectSpec): Parsed<Dialect> {
  const { headerLine, rowsAfterLine, names, units, fields, rows } = fixed;
  const { columns, repeated, issues } = readNames({ line: headerLine, cells: names });
  const table = { separator: ' ', first: -1, rows, width: fields.length, count: rows.length };
  const decimal = stated.decimal ?? findDecimal(table);
  const leastCells = fields.length;
  const found = { separator: ' ', decimal, quote: '"', headerLine, rowsAfterLine, leastCells };
  const note: Issue = {
    code: 'columns-by-place',
    severity: 'note',
    line: headerLine,
    message: `the columns stand at fixed places, and a cell is read by where it stands: ${columns.slice(0, 6).join(', ')}${columns.length > 6 ? ', …' : ''}`,
  };
  return { value: { ...found, columns, repeated, units, fields }, issues: [...issues, note] };
}

/** Words in spaces of which some are missing, at places that tell nothing. */
function placesFault(line: number): Omit<Issue, 'severity'> {
  return {
    code: 'places-not-clear',
    line,
    message: `names stand over columns parted by spaces, but rows have fewer words than names; ${EMPTY_IN_SPACES}`,
    expected: 'a word a column, or columns at fixed places',
  };
}

/** Names above rows of another width, which cannot be brought together. */
function widthFault(header: HeaderLine, table: Table): Omit<Issue, 'severity'> {
  const { length } = header.cells;
  const hint =
    table.separator === ',' && table.width > 1.5 * length
      ? '; decimal commas need another separator than the comma'
      : table.separator === ' '
        ? `; ${EMPTY_IN_SPACES}`
        : '';
  return {
    code: 'header-width',
    line: header.line,
    message: `the header has ${length} names, the rows have ${table.width} cells${hint}`,
    expected: `${table.width} names`,
    received: `${length} names`,
  };
}

function shortRowsNote(header: HeaderLine, table: Table): Issue[] {
  if (header.cells.length <= table.width) return [];
  const last = header.cells.slice(table.width).map((name) => `"${name.trim()}"`);
  return [
    {
      code: 'rows-short',
      severity: 'warning',
      line: header.line,
      message: `the header has ${header.cells.length} names but most rows have ${table.width} cells; where a row ends early, ${last.join(', ')} stay empty`,
      expected: `${header.cells.length} cells`,
      received: `${table.width} cells`,
    },
  ];
}

/** A quote in the header that takes the rows into it. */
function openQuote({ line, cells }: HeaderLine): Omit<Issue, 'severity'> {
  return {
    code: 'quote-not-closed',
    line,
    message: `a quote is opened in the header and never closed: ${cells.slice(0, 6).map(shownCell).join(', ')}`,
    expected: 'quotes in pairs',
  };
}

function readTable(lines: readonly string[], table: Table, stated: DialectSpec): Parsed<Dialect> {
  const open = openHeader(lines, table);
  if (open !== null) return refuse(openQuote(open));
  const uneven = unevenHeader(lines, table);
  // Of words parted by spaces nobody knows which one is missing.
  const mended = uneven === null || table.separator === ' ' ? null : mendedHeader(uneven, table);
  const header = evenHeader(lines, table) ?? mended;
  if (header === null) {
    if (uneven !== null) return refuse(widthFault(uneven, table));
    const cells = (table.rows[table.first] ?? []).slice(0, 4).map(shownCell).join(' ');
    return refuse({
      code: 'header-missing',
      line: table.first + 1,
      message: `the first row has numbers where the names of the columns are expected: ${cells}`,
      expected: 'a header line with the names of the columns',
      received: cells,
    });
  }
  const { columns, repeated, issues } = readNames(header);
  const units = findUnitsRow(lines, table, header);
  return {
    value: {
      separator: table.separator,
      decimal: stated.decimal ?? findDecimal(table),
      quote: '"',
      headerLine: header.line,
      rowsAfterLine: units?.line ?? header.line,
      columns,
      repeated,
      units: units?.units ?? null,
      leastCells: table.width,
    },
    issues: [...issues, ...shortRowsNote(header, table)],
  };
}
