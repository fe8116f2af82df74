/** The header of a table: where it stands, its names, and a row of units under it. */
import type { Issue } from '../result';
import { nameOnOneLine } from '../session/column-name';
import { withoutHiddenSigns } from '../session/hidden-signs';
import { findUnit } from '../units/unit';
import { COMMENT, isNumber, type Table } from './find-table';
import { opensACell, splitCells } from './split-lines';

/** Cells of a header and the 1-based line they stand on. */
export type HeaderLine = Readonly<{ line: number; cells: readonly string[] }>;

/** A header written as a comment just above the rows: `# time,x,y`. */
function commentedHeader(lines: readonly string[], table: Table): HeaderLine | null {
  for (let index = table.first - 1; index >= 0; index -= 1) {
    const line = lines[index] ?? '';
    if (line.trim() === '') continue;
    if (!COMMENT.test(line)) return null;
    const cells = splitCells(line.replace(COMMENT, ''), table.separator);
    return cells?.length === table.width ? { line: index + 1, cells } : null;
  }
  return null;
}

/** Names just above the rows, but more or fewer of them than the rows have cells. */
export function unevenHeader(lines: readonly string[], table: Table): HeaderLine | null {
  for (let index = table.first - 1; index >= 0; index -= 1) {
    const line = lines[index] ?? '';
    if (line.trim() === '') continue;
    const cells = splitCells(line.replace(COMMENT, ''), table.separator);
    if (cells === null || cells.length < 2 || cells.some(isNumber)) return null;
    return { line: index + 1, cells };
  }
  return null;
}

/**
 * Names just above the rows, one of which begins with a quote that no later line closes; null where
 * there are none such.
 */
export function openHeader(lines: readonly string[], table: Table): HeaderLine | null {
  const index = lines.findLastIndex((line, at) => at < table.first && line.trim() !== '');
  const line = lines[index] ?? '';
  if (!opensACell(line)) return null;
  const cells = splitCells(line.replaceAll('"', '').replace(COMMENT, ''), table.separator) ?? [];
  return cells.length === table.width && !cells.some(isNumber) ? { line: index + 1, cells } : null;
}

/** The row under a line with blanks that names every column: the blanks belong to names of groups. */
function namesUnderGroups(table: Table): HeaderLine | null {
  const [groups, names] = [table.first, table.first + 1].map((at) => table.rows[at] ?? null);
  if (!groups?.some((cell) => cell.trim() === '') || names === null || names === undefined) {
    return null;
  }
  const areNames = names.every((cell) => cell.trim() !== '' && !isNumber(cell));
  const units = names.filter((cell) => findUnit(bareUnit(cell)) !== null).length;
  // A row of data has numbers below it that are like it; names have not.
  const below = table.rows[table.first + 2] ?? [];
  const isNamed = areNames && 2 * units <= names.length && below.some(isNumber);
  return isNamed ? { line: table.first + 2, cells: names } : null;
}

/** The header that has a name for every cell of a row; null where there is none. */
export function evenHeader(lines: readonly string[], table: Table): HeaderLine | null {
  const named = namesUnderGroups(table);
  if (named !== null) return named;
  const firstRow = table.rows[table.first] ?? [];
  const isHeader =
    firstRow.every((cell) => !isNumber(cell)) && firstRow.some((cell) => cell.trim() !== '');
  return isHeader ? { line: table.first + 1, cells: firstRow } : commentedHeader(lines, table);
}

/**
 * The header that stands over rows of another number of cells, where that harms nothing: rows that
 * all end in a separator, or rows that leave out cells at their end.
 *
 * @returns the header with a name or '' for every cell; null where cells could not be told apart
 */
export function mendedHeader(header: HeaderLine, table: Table): HeaderLine | null {
  const { length } = header.cells;
  if (length > table.width) return header;
  const extra = table.rows.slice(table.first).flatMap((row) => row?.slice(length) ?? []);
  if (extra.some((cell) => cell.trim() !== '')) return null;
  const blank = Array.from({ length: table.width - length }, () => '');
  return { ...header, cells: [...header.cells, ...blank] };
}

export type Names = Readonly<{
  columns: string[];
  /** Names that the header gives to more than one column. */
  repeated: string[];
  issues: Issue[];
}>;

function signsIssue(index: number, line: number): Issue {
  return {
    code: 'header-signs',
    severity: 'warning',
    line,
    message: `the name of column ${index + 1} holds signs of control or direction that nobody sees; it is read without them`,
  };
}

/**
 * Names of the columns: trimmed, on one line, without signs that nobody sees, an empty one numbered. Columns that share a name are told apart by
 * their position (`spare (column 21)`), so that none is taken for another in silence.
 */
export function readNames({ cells, line }: HeaderLine): Names {
  const issues: Issue[] = [];
  const names = cells.map((cell, index) => {
    const written = nameOnOneLine(withoutHiddenSigns(cell).trim());
    if (written.length < cell.trim().length) issues.push(signsIssue(index, line));
    if (written !== '') return written;
    const name = `column ${index + 1}`;
    issues.push({
      code: 'header-empty',
      severity: 'warning',
      line,
      message: `column ${index + 1} of the header has no name; it is called "${name}"`,
    });
    return name;
  });
  const repeated = [...new Set(names.filter((name, index) => names.indexOf(name) !== index))];
  const columns = names.map((name, index) =>
    repeated.includes(name) ? `${name} (column ${index + 1})` : name,
  );
  for (const name of repeated) {
    const places = names.flatMap((each, index) => (each === name ? [index + 1] : []));
    issues.push({
      code: 'header-duplicate',
      severity: 'warning',
      line,
      message: `the header names "${name}" ${places.length} times, in columns ${places.join(', ')}; they are called ${places.map((place) => `"${name} (column ${place})"`).join(', ')}`,
      expected: 'each name once',
      received: name,
    });
  }
  return { columns, repeated, issues };
}

/** A row of units: the 1-based line and a unit's spelling for each column, null where it has none. */
export type UnitsRow = Readonly<{ line: number; units: readonly (string | null)[] }>;

/** What stands in a row of units over columns that have none: nothing, a dash, a time scale. */
const UNITLESS = /^(?:-*|n\/?a|utc|tai|gps|tt|iso.?8601)$/i;

/** A time scale in the place of a unit. */
const SCALE = /^(?:utc|tai|gps|tt)$/i;

/** `[m/s]`, `(m/s)` and `m/s` to `m/s`. */
function bareUnit(cell: string): string {
  const text = cell.trim();
  return /^\[.*\]$|^\(.*\)$/.test(text) ? text.slice(1, -1).trim() : text;
}

/**
 * A row of units just under the header: most of its cells are spellings of units, and none is a
 * number but the unit 1.
 *
 * @param header the header above it
 * @returns null where the line under the header is a row of data
 */
export function findUnitsRow(
  lines: readonly string[],
  table: Table,
  header: HeaderLine,
): UnitsRow | null {
  const index = lines.findIndex((line, at) => at >= header.line && line.trim() !== '');
  const text = lines[index];
  if (text === undefined) return null;
  const cells = splitCells(text.replace(COMMENT, ''), table.separator)?.map(bareUnit) ?? [];
  if (cells.length < 2 || cells.length > header.cells.length) return null;
  const filled = cells.filter((cell) => !UNITLESS.test(cell));
  const known = filled.filter((cell) => findUnit(cell) !== null);
  const hasNumber = filled.some((cell) => cell !== '1' && isNumber(cell));
  const isUnits =
    !hasNumber && 2 * known.length > filled.length && known.some((each) => each !== '1');
  if (!isUnits) return null;
  const units = header.cells.map((_, at) => {
    const cell = cells[at] ?? '';
    if (SCALE.test(cell)) return cell.toUpperCase();
    return cell === '' || (cell !== '-' && findUnit(cell) === null) ? null : cell;
  });
  return { line: index + 1, units };
}
