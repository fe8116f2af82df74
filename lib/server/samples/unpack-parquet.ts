/** Parquet to delimited text: numbers in their shortest exact form, instants as ISO 8601. */
import type { DuckDBConnection } from '@duckdb/node-api';
import type { Issue } from '@/lib/core/result';
import { MOST_COLUMNS } from './column-plan';
import { withImportEngine } from './engine';
import { sqlName, sqlText } from './sql-text';

export type ParquetColumn = Readonly<{ name: string; type: string }>;

/** What is written for a cell: a zoned time in UTC, anything else as it is. */
export function parquetCellSql({ name, type }: ParquetColumn): string {
  const column = sqlName(name);
  return type === 'TIMESTAMP WITH TIME ZONE' ? `make_timestamp_ns(epoch_ns(${column}))` : column;
}

/** Columns of a table; null where the file cannot be opened. */
export async function parquetColumns(
  connection: DuckDBConnection,
  table: string,
): Promise<readonly ParquetColumn[] | null> {
  try {
    const reader = await connection.runAndReadAll(`DESCRIBE SELECT * FROM ${table}`);
    return reader.getRows().map(([name, type]) => ({ name: String(name), type: String(type) }));
  } catch (error) {
    // What DuckDB says of a damaged file names places inside it, which help nobody.
    if (!(error instanceof Error)) throw error;
    return null;
  }
}

/** Writes the rows to `target` under a line of their names. */
export async function unpackParquet(
  source: Readonly<{ file: string; name: string }>,
  target: string,
  engine: Readonly<{ folder: string; threads: number; signal: AbortSignal | undefined }>,
): Promise<Issue | null> {
  const broken = (message: string): Issue => ({
    code: 'parquet-unreadable',
    severity: 'error',
    file: source.name,
    message,
    expected: 'a whole Parquet file',
  });
  return withImportEngine({ ...engine, sourceFile: source.file }, async (connection) => {
    const table = `read_parquet(${sqlText(source.file)})`;
    const columns = await parquetColumns(connection, table);
    engine.signal?.throwIfAborted();
    if (columns === null) {
      return broken('is a Parquet file that cannot be opened; it may be cut off or damaged');
    }
    if (columns.length > MOST_COLUMNS) {
      return broken(`has ${columns.length} columns; at most ${MOST_COLUMNS} are read`);
    }
    const cells = columns.map((each) => `${parquetCellSql(each)} AS ${sqlName(each.name)}`);
    try {
      await connection.run(
        `COPY (SELECT ${cells} FROM ${table}) TO ${sqlText(target)} (FORMAT csv, HEADER true)`,
      );
      return null;
    } catch (error) {
      engine.signal?.throwIfAborted();
      if (
        !(error instanceof Error) ||
        !/parquet|snappy|zstd|corrupt|decompress/i.test(error.message)
      ) {
        throw error;
      }
      return broken('is a Parquet file whose rows cannot be read; it may be damaged');
    }
  });
}
