/**
 * The one description of a delimited file that DuckDB gets, for the typed pass and for the text
 * pass alike. Every option is stated and nothing is sniffed, but for the line end: stated as CR LF,
 * DuckDB 1.5 reads no row at all; left out, it takes LF and CR LF.
 */
import { sqlName, sqlText, sqlTextList } from './sql-text';

export type CsvDialect = Readonly<{
  separator: string;
  decimal: '.' | ',';
  quote: string;
  /** 1-based line of the header, or of the units under it; data starts on the next. */
  rowsAfterLine: number;
}>;

/** Cells that say "no sample". */
export const ABSENT_CELLS = ['', 'NULL', 'null', 'N/A', 'n/a', '#N/A', 'NA', '-', '--'] as const;

export type CsvColumnType = 'DOUBLE' | 'VARCHAR';

/** The name a source's column has inside the import: its position, so that no name can clash. */
export function cellName(index: number): string {
  return `c${index}`;
}

/** Name of the column that says which file a row came from, where several are scanned. */
export const FILE_COLUMN = 'run_file';

export type CsvScanRequest = Readonly<{
  /** One file, or several that are written alike. */
  file: string | readonly string[];
  dialect: CsvDialect;
  /** Words that say "no sample" in this source, besides the usual ones. */
  absentWords: readonly string[];
  /** One a column of the source, in the source's order. */
  types: readonly CsvColumnType[];
  /** Name of the temporary table that takes what could not be read. */
  rejectsTable: string;
}>;

/** A `read_csv(...)` table expression; its columns are called by `cellName`. */
export function csvScanSql(request: CsvScanRequest): string {
  const { dialect } = request;
  const columns = request.types
    .map((type, index) => `${sqlText(cellName(index))}: ${sqlText(type)}`)
    .join(', ');
  const options = [
    'auto_detect = false',
    'header = false',
    `skip = ${dialect.rowsAfterLine}`,
    `delim = ${sqlText(dialect.separator)}`,
    `quote = ${sqlText(dialect.quote)}`,
    `escape = ${sqlText(dialect.quote)}`,
    "comment = ''",
    `decimal_separator = ${sqlText(dialect.decimal)}`,
    `nullstr = ${sqlTextList([...ABSENT_CELLS, ...request.absentWords])}`,
    "encoding = 'utf-8'",
    'strict_mode = true',
    'null_padding = false',
    'store_rejects = true',
    'rejects_limit = 0',
    `rejects_table = ${sqlText(request.rejectsTable)}`,
    `rejects_scan = ${sqlText(`${request.rejectsTable}_scan`)}`,
    `columns = {${columns}}`,
  ];
  const { file } = request;
  if (typeof file === 'string') return `read_csv(${sqlText(file)}, ${options.join(', ')})`;
  const named = [...options, `filename = ${sqlText(FILE_COLUMN)}`];
  return `read_csv(${sqlTextList(file)}, ${named.join(', ')})`;
}

/** True, in SQL, for a cell that holds something but is no number; spaces round "no sample" are let be. */
export function badCellSql(cell: string, number: string, absentWords: readonly string[]): string {
  const absent = sqlTextList([...ABSENT_CELLS, ...absentWords]);
  return `(${cell} IS NOT NULL AND (${number}) IS NULL AND NOT list_contains(${absent}, trim(${cell})))`;
}

/** Blanks that programs put round numbers and that no cast takes for such. */
const ODD_BLANKS = ' \t\u00a0\u2007\u2009\u202f';
/** `2.5D+02`, the exponent of double precision in Fortran (ISO/IEC 1539-1, real literal constants). */
const D_EXPONENT = '^([+-]?[0-9]*[.,]?[0-9]*)[dD]([+-]?[0-9]{1,3})$';

/**
 * A cell of the text pass as a number: NULL where it is none. With a decimal comma a point is no
 * part of a number, as in the typed pass. A true minus, an exponent with D and odd blanks are read.
 */
export function cellNumberSql(index: number, decimal: '.' | ','): string {
  const cell = sqlName(cellName(index));
  const bare = `trim(replace(${cell}, '\u2212', '-'), ${sqlText(ODD_BLANKS)})`;
  const mended = `regexp_replace(${bare}, ${sqlText(D_EXPONENT)}, '\\1e\\2')`;
  const cast = (text: string) => `TRY_CAST(${text} AS DOUBLE)`;
  if (decimal === '.') return `coalesce(${cast(cell)}, ${cast(mended)})`;
  const point = (text: string) => cast(`replace(${text}, ',', '.')`);
  return `CASE WHEN contains(${cell}, '.') THEN NULL ELSE coalesce(${point(cell)}, ${point(mended)}) END`;
}
