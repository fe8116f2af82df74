/** Which columns that nobody described hold words, told from the first rows. */
import type { DuckDBConnection } from '@duckdb/node-api';
import type { Dialect } from '@/lib/core/intake/dialect';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { MOST_COLUMNS, missingWords } from './column-plan';
import { cellName, cellNumberSql, csvScanSql } from './csv-scan';
import { readCounts } from './read-counts';
import { sqlName } from './sql-text';

const ROWS_LOOKED_AT = 1000;
const LOOKED_AT = 'looked_at';

/**
 * A column is text when fewer than half of its filled cells in the first rows are numbers; a column
 * with no filled cell there is taken as numbers. A table too wide to be read is not looked at.
 *
 * @returns positions of such columns
 */
export async function findTextColumns(
  connection: DuckDBConnection,
  file: string,
  dialect: Dialect,
  spec: TelemetrySpec,
): Promise<ReadonlySet<number>> {
  const described = new Set([
    ...spec.time.columns,
    ...spec.channels.map((channel) => channel.column),
  ]);
  const open = dialect.columns.flatMap((name, index) => (described.has(name) ? [] : [index]));
  if (open.length === 0 || dialect.columns.length > MOST_COLUMNS) return new Set();
  const types = dialect.columns.map(() => 'VARCHAR' as const);
  const scan = csvScanSql({
    file,
    dialect,
    types,
    rejectsTable: 'look_rejects',
    absentWords: missingWords(spec),
  });
  const cells = open.map((index) => sqlName(cellName(index)));
  await connection.run(
    `CREATE TEMP TABLE ${LOOKED_AT} AS SELECT ${cells} FROM ${scan} LIMIT ${ROWS_LOOKED_AT}`,
  );
  const columns = open.map(
    (index, at) => `${cells[at]}, ${cellNumberSql(index, dialect.decimal)} AS n${at}`,
  );
  const counts = await readCounts(connection, LOOKED_AT, columns, (at) => [
    `count(${cells[at]})`,
    `count(n${at})`,
  ]);
  await connection.run(`DROP TABLE ${LOOKED_AT}`);
  return new Set(
    open.filter((_, at) => {
      const [filled = 0, numbers = 0] = counts[at] ?? [];
      return filled > 0 && 2 * numbers < filled;
    }),
  );
}
