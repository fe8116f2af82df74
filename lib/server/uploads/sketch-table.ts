/** Some rows of a table, from parts of its text. */
import type { Dialect } from '@/lib/core/intake/dialect';
import { COMMENT } from '@/lib/core/intake/find-table';
import { cellsOf } from '@/lib/core/intake/fixed-columns';
import { readJsonRow } from '@/lib/core/intake/json-row';
import type { SketchedTable } from '@/lib/core/intake/proposal/file-sketch';
import { type CsvRow, readCsvRows, splitLines } from '@/lib/core/intake/split-lines';

/** A stretch of a file's text; its edges cut lines unless they are the file's own. */
export type Part = Readonly<{ text: string; isStart: boolean; isEnd: boolean }>;

export const ROWS_A_PART = 600;

type Rows = readonly (readonly string[])[];

/** Records of a part; one that a quote leaves open is left out. A space stands for any run of them. */
function* recordsOf(text: string, dialect: Dialect): Generator<CsvRow> {
  const { separator } = dialect;
  if (separator === ' ') {
    for (const [index, line] of splitLines(text).entries()) {
      const cells = cellsOf(line, dialect);
      if (cells !== null) yield { line: index + 1, cells };
    }
    return;
  }
  for (const { isOpen, ...row } of readCsvRows(text, separator)) if (!isOpen) yield row;
}

/** Rows with their lines; remarks among them are none. */
function withoutRemarks(rows: readonly CsvRow[]): readonly CsvRow[] {
  const left = rows.filter(({ cells }) => !COMMENT.test(cells[0] ?? ''));
  return left.length === 0 ? rows : left;
}

/** Whole rows of a part; a row that the part's edges cut is left out. */
function rowsOf(part: Part, dialect: Dialect): readonly CsvRow[] {
  const rows: CsvRow[] = [];
  const firstLine = part.isStart ? dialect.rowsAfterLine + 1 : 2;
  const width = dialect.columns.length;
  for (const { line, cells } of recordsOf(part.text, dialect)) {
    if (line < firstLine || cells.length < dialect.leastCells || cells.length > width) continue;
    rows.push({ line, cells: cells.map((cell) => cell.trim()) });
    if (rows.length > ROWS_A_PART) break;
  }
  if (!part.isEnd && rows.length <= ROWS_A_PART) rows.pop();
  return withoutRemarks(rows.slice(0, ROWS_A_PART));
}

/** A table of which some blocks of rows are known; `lines` are those of the first block. */
export function tableOfRows(
  columns: readonly string[],
  blocks: readonly Rows[],
  lines: readonly number[],
): SketchedTable {
  const filled = blocks.filter((rows) => rows.length > 0);
  const rows = filled.flat();
  return {
    columns,
    cells: columns.map((_, column) => rows.map((row) => row[column] ?? '')),
    units: null,
    blocks: filled.map((_, at) => filled.slice(0, at).reduce((sum, { length }) => sum + length, 0)),
    decimal: '.',
    lines,
  };
}

/** A table in delimited text, with the units of a row under its header. */
export function tableOfText(parts: readonly Part[], dialect: Dialect): SketchedTable {
  const { columns, decimal, units } = dialect;
  const blocks = parts.map((part) => rowsOf(part, dialect));
  const lines = blocks[0]?.map(({ line }) => line) ?? [];
  const rows = blocks.map((block) => block.map(({ cells }) => cells));
  const named = units === null ? null : units.map((unit) => unit ?? '');
  return { ...tableOfRows(columns, rows, lines), units: named, decimal };
}

type JsonRow = Readonly<{ line: number; row: ReadonlyMap<string, string> }>;

function jsonRowsOf({ text, isStart, isEnd }: Part): readonly JsonRow[] {
  const lines = splitLines(text);
  const whole = lines.slice(isStart ? 0 : 1, isEnd ? undefined : -1);
  return whole.slice(0, ROWS_A_PART).flatMap((written, index) => {
    const row = readJsonRow(written);
    return row === null ? [] : { line: index + 1, row };
  });
}

/** A table in JSON Lines: the keys met are its columns. */
export function tableOfJson(parts: readonly Part[]): SketchedTable {
  const blocks = parts.map(jsonRowsOf);
  const columns = [...new Set(blocks.flat().flatMap(({ row }) => [...row.keys()]))];
  const cells = blocks.map((rows) =>
    rows.map(({ row }) => columns.map((key) => row.get(key) ?? '')),
  );
  return tableOfRows(columns, cells, blocks[0]?.map(({ line }) => line) ?? []);
}
