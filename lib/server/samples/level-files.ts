/** Level-of-detail files: smallest, largest and number of samples of every 64, 512 and 4,096 rows. */
import { copyFile } from 'node:fs/promises';
import path from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import { TIME_COLUMN } from './column-plan';
import { readDoubles } from './double-chunks';
import { LEVEL_ROWS, type LevelRows } from './sample-manifest';
import { sqlName, sqlText } from './sql-text';

/** Name of a level's file inside a sample folder. */
export function levelFile(level: LevelRows): string {
  return `lod/s${level}.parquet`;
}

/** Columns of a level file that belong to a channel. */
export function levelColumns(stored: string): Readonly<{ min: string; max: string; n: string }> {
  return { min: `${stored}_min`, max: `${stored}_max`, n: `${stored}_n` };
}

export type LevelRequest = Readonly<{
  connection: DuckDBConnection;
  /** The sample folder, or the temporary one it is made in. */
  folder: string;
  dataFile: string;
  stored: readonly string[];
}>;

const LEVEL_OPTIONS = '(FORMAT parquet, COMPRESSION zstd, ROW_GROUP_SIZE 16384)';

export type ChannelExtent = Readonly<{ samples: number; min: number | null; max: number | null }>;

export type Extent = Readonly<{
  rows: number;
  fromS: number | null;
  toS: number | null;
  channels: readonly ChannelExtent[];
}>;

function levelPath(request: LevelRequest, level: LevelRows): string {
  return sqlText(path.join(request.folder, levelFile(level)));
}

/** A level of so many numbers or fewer is kept in memory until the next is made from it. */
const MOST_KEPT = 4_000_000;

/** Where a level can be read from. */
type LevelPlace = string;

/**
 * Writes one level. A Parquet file of thousands of columns takes a second to open, so a small level
 * goes through a table.
 */
async function writeLevel(
  request: LevelRequest,
  level: LevelRows,
  select: string,
  rows: number,
): Promise<LevelPlace> {
  const { connection, stored } = request;
  const file = levelPath(request, level);
  if ((rows / level) * 3 * stored.length > MOST_KEPT) {
    await connection.run(`COPY (${select}) TO ${file} ${LEVEL_OPTIONS}`);
    return `read_parquet(${file})`;
  }
  const table = `level_${level}`;
  await connection.run(`CREATE OR REPLACE TEMP TABLE ${table} AS ${select}`);
  await connection.run(`COPY ${table} TO ${file} ${LEVEL_OPTIONS}`);
  return table;
}

function finestSql({ stored, dataFile }: LevelRequest, level: LevelRows): string {
  const columns = stored.flatMap((name) => {
    const to = levelColumns(name);
    const column = sqlName(name);
    return [
      `min(${column}) AS ${sqlName(to.min)}`,
      `max(${column}) AS ${sqlName(to.max)}`,
      `CAST(count(${column}) AS INTEGER) AS ${sqlName(to.n)}`,
    ];
  });
  // GROUP BY 1: a name there would bind to a column of the source that is called so.
  return `SELECT CAST(file_row_number // ${level} AS INTEGER) AS bin, min(${TIME_COLUMN}) AS t0, max(${TIME_COLUMN}) AS t1, ${['count(*) AS rows', ...columns].join(', ')}
     FROM read_parquet(${sqlText(dataFile)}, file_row_number = true) GROUP BY 1 ORDER BY 1`;
}

function coarserSql({ stored }: LevelRequest, bins: number, from: LevelPlace): string {
  const columns = stored.flatMap((name) => {
    const { min, max, n } = levelColumns(name);
    return [
      `min(${sqlName(min)}) AS ${sqlName(min)}`,
      `max(${sqlName(max)}) AS ${sqlName(max)}`,
      `CAST(sum(${sqlName(n)}) AS INTEGER) AS ${sqlName(n)}`,
    ];
  });
  return `SELECT CAST(bin // ${bins} AS INTEGER) AS bin, min(t0) AS t0, max(t1) AS t1, ${['CAST(sum(rows) AS BIGINT) AS rows', ...columns].join(', ')}
     FROM ${from} GROUP BY 1 ORDER BY 1`;
}

/** Whole ranges and counts, from the coarse level. */
async function readExtent({ connection, stored }: LevelRequest, from: LevelPlace): Promise<Extent> {
  const perChannel = stored.flatMap((name) => {
    const { min, max, n } = levelColumns(name);
    return [`sum(${sqlName(n)})`, `min(${sqlName(min)})`, `max(${sqlName(max)})`];
  });
  const columns = ['sum(rows)', 'min(t0)', 'max(t1)', ...perChannel].map(
    (sql) => `coalesce(CAST(${sql} AS DOUBLE), 'nan'::DOUBLE)`,
  );
  const values = await readDoubles(connection, `SELECT ${columns} FROM ${from}`, 1);
  const at = (index: number) => values[index]?.[0] ?? Number.NaN;
  const orNull = (value: number) => (Number.isNaN(value) ? null : value);
  return {
    rows: orNull(at(0)) ?? 0,
    fromS: orNull(at(1)),
    toS: orNull(at(2)),
    channels: stored.map((_, index) => ({
      samples: orNull(at(3 + 3 * index)) ?? 0,
      min: orNull(at(4 + 3 * index)),
      max: orNull(at(5 + 3 * index)),
    })),
  };
}

/**
 * Writes every level, each but the finest from the one before it; one row of that is the same row
 * at every coarser level.
 *
 * @param rows rows of the data file
 * @returns whole ranges and counts
 */
export async function writeLevels(request: LevelRequest, rows: number): Promise<Extent> {
  const fileOf = (each: LevelRows) => path.join(request.folder, levelFile(each));
  const [finest, ...coarser] = LEVEL_ROWS;
  let from: LevelRows = finest;
  let place = await writeLevel(request, finest, finestSql(request, finest), rows);
  for (const level of coarser) {
    if (rows <= from) await copyFile(fileOf(from), fileOf(level));
    else {
      const select = coarserSql(request, level / from, place);
      place = await writeLevel(request, level, select, rows);
    }
    from = level;
  }
  return readExtent(request, place);
}
