/** Cited columns as Parquet and as CSV, on session time; the same columns give the same bytes. */
import path from 'node:path';
import type { PackagedColumns } from '@/lib/core/debrief/package/package-readme';
import { noFormula } from '@/lib/view/csv-cell';
import { TIME_COLUMN } from '../../samples/column-plan';
import { samplePath } from '../../samples/columns-of';
import { readDoubles } from '../../samples/double-chunks';
import { withImportEngine } from '../../samples/engine';
import { DATA_FILE } from '../../samples/seal-folder';
import { sqlDouble, sqlName, sqlText } from '../../samples/sql-text';
import type { CitedColumns } from './cited-columns';

/** More rows than this are no CSV that anybody opens; our own choice. */
const MOST_CSV_ROWS = 1_000_000;

function fileStem({ source }: CitedColumns, index: number): string {
  if (source === null) return 'derived';
  return `${index}-${source.replace(/[^\w.-]+/g, '_')}`;
}

function querySql(cited: CitedColumns, file: string, called: (name: string) => string): string {
  const { columns, offsetS, rate, fromS, toS } = cited;
  const time = `${sqlDouble(offsetS)} + ${TIME_COLUMN} * ${sqlDouble(rate)}`;
  const list = columns.map(({ name, stored }) => `${sqlName(stored)} AS ${sqlName(called(name))}`);
  const where =
    fromS === null || toS === null
      ? ''
      : `WHERE session_s BETWEEN ${sqlDouble(fromS)} AND ${sqlDouble(toS)}`;
  const inner = `SELECT ${time} AS session_s, ${list.join(', ')} FROM read_parquet(${sqlText(file)})`;
  return `SELECT * FROM (${inner}) ${where} ORDER BY session_s`;
}

/**
 * Writes the files of one sample folder into `folder`/data.
 *
 * @param place the package's folder, the samples' root, and the place of this among all
 */
export async function exportColumns(
  cited: CitedColumns,
  place: Readonly<{ folder: string; samplesRoot: string; index: number }>,
): Promise<PackagedColumns> {
  const source = path.join(samplePath(place.samplesRoot, cited.folder), DATA_FILE);
  const stem = `data/${fileStem(cited, place.index)}`;
  const query = querySql(cited, source, (name) => name);
  // Names come from files: in a table for a spreadsheet none of them is a formula.
  const csvQuery = querySql(cited, source, noFormula);
  const engine = { threads: 1, folder: place.folder, sourceFile: source, signal: undefined };
  return withImportEngine(engine, async (connection) => {
    const extent = `SELECT CAST(count(*) AS DOUBLE), min(session_s), max(session_s) FROM (${query})`;
    const [rows, low, high] = await readDoubles(connection, extent, 1);
    const target = (ending: string) => sqlText(path.join(place.folder, `${stem}.${ending}`));
    const parquet = '(FORMAT parquet, COMPRESSION zstd, ROW_GROUP_SIZE 65536)';
    await connection.run(`COPY (${query}) TO ${target('parquet')} ${parquet}`);
    const isShort = (rows?.[0] ?? 0) <= MOST_CSV_ROWS;
    if (isShort)
      await connection.run(`COPY (${csvQuery}) TO ${target('csv')} (FORMAT csv, HEADER)`);
    return {
      file: `${stem}.parquet`,
      csv: isShort ? `${stem}.csv` : null,
      source: cited.source,
      fromS: low?.[0] ?? Number.NaN,
      toS: high?.[0] ?? Number.NaN,
      columns: cited.columns.map(({ name, unit }) => ({ name, unit })),
    };
  });
}
