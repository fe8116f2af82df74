import { invariant } from '@/lib/core/result';
import { TIME_COLUMN } from './column-plan';
import { channelNamed } from './columns-of';
import { readDoubles } from './double-chunks';
import { withConnection } from './engine';
import { folderIndex, folderTable } from './folder-index';
import { sqlDouble, sqlName } from './sql-text';

export type WindowQuery = Readonly<{
  columns: readonly string[];
  fromS: number;
  toS: number;
  maxRows: number;
}>;

/** Rows with `fromS <= t <= toS`, oldest first; `cut` when there were more than `maxRows`. */
export type SampleWindow = Readonly<{
  tS: Float64Array<ArrayBuffer>;
  /** NaN = no sample. */
  columns: readonly Readonly<{ column: string; values: Float64Array<ArrayBuffer> }>[];
  rowsInWindow: number;
  cut: boolean;
}>;

/** The samples of a window, one by one. `columns` are names as in the source's header. */
export async function readWindow(
  samplesRoot: string,
  folder: string,
  query: WindowQuery,
): Promise<SampleWindow> {
  const { fromS, toS, maxRows } = query;
  invariant(Number.isInteger(maxRows) && maxRows > 0, 'maxRows is a positive whole number');
  const { manifest } = await folderIndex(samplesRoot, folder);
  const stored = query.columns.map((name) => channelNamed(manifest, name).stored);
  const table = folderTable(samplesRoot, folder, 1);
  const where = `${TIME_COLUMN} BETWEEN ${sqlDouble(fromS)} AND ${sqlDouble(toS)}`;
  const select = [
    TIME_COLUMN,
    ...stored.map((name) => `coalesce(${sqlName(name)}, 'nan'::DOUBLE)`),
  ];
  return withConnection(samplesRoot, async (connection) => {
    const [count] = await readDoubles(
      connection,
      `SELECT CAST(count(*) AS DOUBLE) FROM ${table} WHERE ${where}`,
      1,
    );
    const rowsInWindow = count?.[0] ?? 0;
    const [tS = new Float64Array(0), ...values] = await readDoubles(
      connection,
      `SELECT ${select} FROM ${table} WHERE ${where} ORDER BY ${TIME_COLUMN} LIMIT ${maxRows}`,
      Math.min(maxRows, rowsInWindow),
    );
    return {
      tS,
      columns: query.columns.map((column, index) => ({
        column,
        values: values[index] ?? new Float64Array(0),
      })),
      rowsInWindow,
      cut: rowsInWindow > maxRows,
    };
  });
}
