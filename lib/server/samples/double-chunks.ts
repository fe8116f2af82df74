/**
 * DOUBLE columns between DuckDB's chunks and typed arrays without a boxed value each. The only file
 * that touches the inside of a vector; `tests/server/samples/double-chunks.test.ts` holds it.
 */
import {
  DOUBLE,
  type DuckDBAppender,
  type DuckDBConnection,
  DuckDBDataChunk,
  type DuckDBVector,
} from '@duckdb/node-api';
import { invariant } from '@/lib/core/result';

const CHUNK_ROWS = 2048;

/** The numbers of a DOUBLE vector, in DuckDB's own memory: valid until the chunk goes. */
function vectorItems(vector: DuckDBVector): Float64Array {
  const items: unknown = Reflect.get(vector, 'items');
  invariant(items instanceof Float64Array, 'the column of a chunk is not DOUBLE');
  return items;
}

/** Columns that grow; one allocation where the number of rows is known beforehand. */
class GrowingColumns {
  columns: Float64Array<ArrayBuffer>[];
  rows = 0;

  constructor(count: number, expectedRows: number) {
    this.columns = Array.from(
      { length: count },
      () => new Float64Array(Math.max(16, expectedRows)),
    );
  }

  makeRoom(rows: number): void {
    const length = this.columns[0]?.length ?? 0;
    if (this.rows + rows <= length) return;
    this.columns = this.columns.map((column) => {
      const larger = new Float64Array(Math.max(2 * length, this.rows + rows));
      larger.set(column);
      return larger;
    });
  }

  finished(): Float64Array<ArrayBuffer>[] {
    return this.columns.map((column) =>
      column.length === this.rows ? column : column.slice(0, this.rows),
    );
  }
}

/**
 * Runs a query whose columns are all DOUBLE and never NULL (`coalesce(x, 'nan'::DOUBLE)`).
 *
 * @param expectedRows how many rows are to be expected; more are taken as well
 * @returns one array a column, in the query's order of rows
 */
export async function readDoubles(
  connection: DuckDBConnection,
  sql: string,
  expectedRows: number,
): Promise<Float64Array<ArrayBuffer>[]> {
  const result = await connection.stream(sql);
  const grown = new GrowingColumns(result.columnCount, expectedRows);
  for (;;) {
    const chunk = await result.fetchChunk();
    if (chunk === null || chunk.rowCount === 0) break;
    grown.makeRoom(chunk.rowCount);
    for (let index = 0; index < grown.columns.length; index += 1) {
      const items = vectorItems(chunk.getColumnVector(index));
      grown.columns[index]?.set(items.subarray(0, chunk.rowCount), grown.rows);
    }
    grown.rows += chunk.rowCount;
  }
  return grown.finished();
}

/** Appends columns of equal length to a table of DOUBLE columns; what is not finite becomes NULL. */
export function appendDoubles(appender: DuckDBAppender, columns: readonly Float64Array[]): void {
  const rows = columns[0]?.length ?? 0;
  const types = columns.map(() => DOUBLE);
  for (let start = 0; start < rows; start += CHUNK_ROWS) {
    const count = Math.min(CHUNK_ROWS, rows - start);
    const chunk = DuckDBDataChunk.create(types, count);
    columns.forEach((column, index) => {
      const vector = chunk.getColumnVector(index);
      const part = column.subarray(start, start + count);
      vectorItems(vector).set(part);
      part.forEach((value, row) => {
        if (!Number.isFinite(value)) vector.setItem(row, null);
      });
      vector.flush();
    });
    appender.appendDataChunk(chunk);
  }
  appender.flushSync();
}
