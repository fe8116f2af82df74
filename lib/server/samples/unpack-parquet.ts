/** Parquet to delimited text: numbers in their shortest exact form, instants as ISO 8601. */
import { open } from 'node:fs/promises';
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

const MARK = 'PAR1';
/** Length of the footer and the mark at the very end. */
const END_BYTES = 8;

/**
 * What is wrong with the end of a file that begins as Parquet; null where a footer of a length that
 * the file can hold stands there.
 *
 * Source: Apache Parquet, file format: footer, its length in 4 bytes (little endian), the mark.
 */
async function endFault(file: string): Promise<string | null> {
  const handle = await open(file, 'r');
  try {
    const { size } = await handle.stat();
    const end = Buffer.alloc(END_BYTES);
    const least = MARK.length + END_BYTES;
    if (size >= least) await handle.read(end, 0, END_BYTES, size - END_BYTES);
    if (size < least || end.toString('latin1', 4) !== MARK) {
      return `begins as a Parquet file but does not end with ${MARK}; it is cut off or something else`;
    }
    const length = end.readUInt32LE(0);
    return length > 0 && length <= size - least
      ? null
      : `is a Parquet file whose footer cannot be: ${length} bytes of ${size}`;
  } finally {
    await handle.close();
  }
}

/** Faults of this machine, not of the file. */
const OWN_FAULTS =
  /out of memory|no space left|could not write|interrupt|read-only file|too many open/i;

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
  const cutOff = await endFault(source.file);
  if (cutOff !== null) return broken(cutOff);
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
      // Damage shows in many ways, from a sum that is wrong to a page that cannot be; what is no
      // fault of the file is told by few.
      if (!(error instanceof Error) || OWN_FAULTS.test(error.message)) throw error;
      return broken('is a Parquet file whose rows cannot be read; it may be damaged');
    }
  });
}
