/** Some rows of a Parquet file, in blocks spread over it. */
import { MOST_COLUMNS } from './column-plan';
import { withImportEngine } from './engine';
import { sqlText } from './sql-text';
import { parquetCellSql, parquetColumns } from './unpack-parquet';

export type ParquetSample = Readonly<{
  columns: readonly string[];
  /** Cells as text, '' where there is none: `blocks[block][row][column]`. */
  blocks: readonly (readonly (readonly string[])[])[];
}>;

/**
 * Rows in blocks that follow each other in the file, the first and the last among them.
 *
 * @param source the file, and a folder for what does not fit into memory
 * @returns null where the file cannot be read, or has too many columns
 */
export async function sampleParquet(
  source: Readonly<{ file: string; folder: string }>,
  wish: Readonly<{ rowsABlock: number; blocks: number }>,
): Promise<ParquetSample | null> {
  const { file, folder } = source;
  const engine = { threads: 1, folder, sourceFile: file, signal: undefined };
  return withImportEngine(engine, async (connection) => {
    const table = `read_parquet(${sqlText(file)})`;
    const columns = await parquetColumns(connection, table);
    if (columns === null || columns.length > MOST_COLUMNS) return null;
    try {
      const counted = await connection.runAndReadAll(`SELECT count(*) FROM ${table}`);
      const rows = Number(counted.getRows()[0]?.[0] ?? 0);
      const cells = columns.map((each) => `coalesce(CAST(${parquetCellSql(each)} AS VARCHAR), '')`);
      const blocks: string[][][] = [];
      const count = Math.min(wish.blocks, Math.max(1, Math.ceil(rows / wish.rowsABlock)));
      const last = Math.max(0, rows - wish.rowsABlock);
      for (let block = 0; block < count; block += 1) {
        const before = wish.rowsABlock * block;
        const from = Math.max(before, count === 1 ? 0 : Math.round((last * block) / (count - 1)));
        const sql = `SELECT ${cells} FROM ${table} LIMIT ${wish.rowsABlock} OFFSET ${from}`;
        const reader = await connection.runAndReadAll(sql);
        blocks.push(reader.getRows().map((row) => row.map(String)));
      }
      return { columns: columns.map(({ name }) => name), blocks };
    } catch (error) {
      // The import itself tells what is wrong with the rows.
      if (!(error instanceof Error)) throw error;
      return null;
    }
  });
}
