/** The table in a delimited text: which separator splits it, where it starts, how wide it is. */
import { splitCells } from './split-lines';

/** Separators that are tried where none is stated, the more usual first. */
export const SEPARATORS = [',', ';', '\t', '|'] as const;

/** A true minus and an exponent with D count too. */
const NUMBER =
  /^[+\-\u2212]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[ed][+-]?\d+)?$|^[+-]?(?:nan|inf|infinity)$/i;

/** A line that is a remark, and the mark at its start. */
export const COMMENT = /^\s*(?:#|%|\/\/)/;

/** True for text that a column of numbers could hold. */
export function isNumber(cell: string): boolean {
  return NUMBER.test(cell.trim());
}

export type Table = Readonly<{
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

/** A cell of numbers with spaces between them (`0 1`) is no name either. */
export function startsWithNames(table: Table): boolean {
  const cells = table.rows[table.first] ?? [];
  return cells.every((cell) => !cell.trim().split(/\s+/).every(isNumber));
}

/** Lines that fit; a header of names first counts for more than a table without one. */
function score(table: Table): number {
  return table.count * (startsWithNames(table) ? 2 : 1);
}

/** Words are split by spaces too: a table in spaces has numbers under names. */
function isNumbersUnderNames(table: Table): boolean {
  const cells = table.rows.slice(table.first + 1).flatMap((row) => row ?? []);
  return startsWithNames(table) && 2 * cells.filter(isNumber).length > cells.length;
}

/**
 * The table that one of the separators splits the most lines alike for; of equals, the one with
 * more columns. Spaces are taken only where none of the usual separators splits enough lines, or
 * where those lines have no names above them (`0 1,5 10` has decimal commas).
 *
 * @param lines lines of the text, without their ends
 * @param stated the separator of the session file; null to find it
 * @param leastCount how many lines a table needs
 * @returns null where no line, or too few of them, are split alike
 */
export function bestTable(
  lines: readonly string[],
  stated: string | null,
  leastCount: number,
): Table | null {
  let best: Table | null = null;
  for (const separator of stated === null ? SEPARATORS : [stated]) {
    const table = findTable(lines, separator);
    if (table === null) continue;
    const isBetter =
      best === null ||
      score(table) > score(best) ||
      (score(table) === score(best) && table.width > best.width);
    if (isBetter) best = table;
  }
  const usual = best !== null && best.count >= leastCount ? best : null;
  if (stated !== null || (usual !== null && startsWithNames(usual))) return usual;
  const inSpaces = findTable(lines, ' ');
  if (inSpaces === null || inSpaces.count < Math.max(leastCount, usual?.count ?? 0)) return usual;
  return isNumbersUnderNames(inSpaces) ? inSpaces : usual;
}

/** Decimal comma where cells read as numbers with it and none reads with a point. */
export function findDecimal(table: Table): '.' | ',' {
  const cells = table.rows.slice(table.first + 1).flatMap((row) => row ?? []);
  const numbers = cells.filter(isNumber);
  const withComma = numbers.some((cell) => cell.includes(','));
  const withPoint = numbers.some((cell) => cell.includes('.'));
  return withComma && !withPoint ? ',' : '.';
}
