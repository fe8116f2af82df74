/**
 * Columns of a folder's files, read a row group at a time and kept in memory: whoever zooms and pans asks for
 * the rows of one stretch again and again, and taking them apart is most of what an envelope costs.
 */
import { invariant } from '@/lib/core/result';
import { readDoubles } from './double-chunks';
import { withConnection } from './engine';
import { type FolderIndex, folderTable } from './folder-index';
import { COARSEST_LEVEL, type LevelRows } from './sample-manifest';
import { sqlDouble } from './sql-text';

/** As the files are written: a piece is one row group, which is read as a whole in any case. */
const PIECE_ROWS = { data: 65_536, level: 16_384 } as const;
/** Numbers held at most, of all folders: 96 MB. */
const MOST_KEPT_NUMBERS = 12_000_000;

export type PieceSource = Readonly<{
  samplesRoot: string;
  folder: string;
  index: FolderIndex;
  rowsPerBin: 1 | LevelRows;
}>;

type Column = Float64Array<ArrayBuffer>;
type Kept = Readonly<{ column: Promise<Column>; numbers: number }>;

const kept = new Map<string, Kept>();
let keptNumbers = 0;

/**
 * Rows of a window, piece by piece in order of time.
 *
 * @param columns SQL of each column, DOUBLE and never NULL; the first is the time a row starts at
 * @param endColumn which of them is the time a row ends at: 0 where a row is an instant
 * @returns for each piece its columns, cut to rows that end at or after `fromS` and start at or before `toS`
 */
export async function readPieces(
  source: PieceSource,
  columns: readonly string[],
  window: Readonly<{ fromS: number; toS: number; endColumn: 0 | 1 }>,
): Promise<readonly (readonly Column[])[]> {
  const { fromS, toS, endColumn } = window;
  const pieces = await Promise.all(
    piecesIn(source, fromS, toS).map((piece) => pieceColumns(source, columns, piece)),
  );
  return pieces.map((piece) => {
    const from = firstAbove(piece[endColumn], fromS, 'with');
    const to = firstAbove(piece[0], toS, 'without');
    return piece.map((column) => column.subarray(from, Math.max(from, to)));
  });
}

/** Bins of the index that one piece covers. */
function binsAPiece(rowsPerBin: 1 | LevelRows): number {
  return rowsPerBin === 1
    ? PIECE_ROWS.data / COARSEST_LEVEL
    : (PIECE_ROWS.level * rowsPerBin) / COARSEST_LEVEL;
}

function piecesIn(
  { index, rowsPerBin }: PieceSource,
  fromS: number,
  toS: number,
): readonly number[] {
  const first = firstAbove(index.t1, fromS, 'with');
  const end = firstAbove(index.t0, toS, 'without');
  const bins = binsAPiece(rowsPerBin);
  const from = Math.floor(first / bins);
  const count = end <= first ? 0 : Math.floor((end - 1) / bins) - from + 1;
  return Array.from({ length: count }, (_, at) => from + at);
}

function pieceColumns(
  source: PieceSource,
  columns: readonly string[],
  piece: number,
): Promise<readonly Column[]> {
  const { samplesRoot, folder, index, rowsPerBin } = source;
  const table = folderTable(samplesRoot, folder, rowsPerBin);
  const keyOf = (column: string): string => `${table} ${piece} ${column}`;
  const missing = columns.filter((column) => !kept.has(keyOf(column)));
  if (missing.length > 0) {
    const bins = binsAPiece(rowsPerBin);
    const last = Math.min(index.t0.length, (piece + 1) * bins) - 1;
    const start = columns[0];
    const [fromS, toS] = [index.t0[piece * bins], index.t1[last]];
    invariant(start !== undefined && fromS !== undefined && toS !== undefined, 'no such piece');
    const rows = rowsPerBin === 1 ? PIECE_ROWS.data : PIECE_ROWS.level;
    const sql = `SELECT ${missing.join(', ')} FROM ${table}
      WHERE ${start} BETWEEN ${sqlDouble(fromS)} AND ${sqlDouble(toS)}`;
    const read = withConnection(samplesRoot, (connection) => readDoubles(connection, sql, rows));
    missing.forEach((column, at) => {
      keep(keyOf(column), {
        column: read.then((found) => found[at] ?? new Float64Array(0)),
        numbers: rows,
      });
    });
  }
  const found = columns.map((column) => take(keyOf(column)));
  forgetOldest();
  return Promise.all(found);
}

function keep(key: string, entry: Kept): void {
  kept.set(key, entry);
  keptNumbers += entry.numbers;
  entry.column.catch(() => forget(key, entry));
}

/** The one of a key that is there, as the latest used. */
function take(key: string): Promise<Column> {
  const entry = kept.get(key);
  invariant(entry !== undefined, 'a column that was just kept is there');
  kept.delete(key);
  kept.set(key, entry);
  return entry.column;
}

function forget(key: string, entry: Kept): void {
  if (kept.get(key) !== entry) return;
  kept.delete(key);
  keptNumbers -= entry.numbers;
}

function forgetOldest(): void {
  for (const [key, entry] of kept) {
    if (keptNumbers <= MOST_KEPT_NUMBERS) return;
    forget(key, entry);
  }
}

/** Position of the first number above a limit, or at it; the length where none is. @param sorted ascending */
function firstAbove(
  sorted: Float64Array | undefined,
  limit: number,
  at: 'with' | 'without',
): number {
  let low = 0;
  let high = sorted?.length ?? 0;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const value = sorted?.[middle] ?? Number.POSITIVE_INFINITY;
    if (value < limit || (at === 'without' && value === limit)) low = middle + 1;
    else high = middle;
  }
  return low;
}
