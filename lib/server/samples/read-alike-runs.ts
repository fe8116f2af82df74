/** Simulator runs that are written alike, all in one statement. */
import path from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import type { Instant } from '@/lib/core/time/instant';
import { missingWords, type PlannedChannel, planColumns, TIME_COLUMN } from './column-plan';
import { cellName, csvScanSql, FILE_COLUMN } from './csv-scan';
import { type PassInput, parquetOptions, provenStampSql, storedNumberSql } from './data-pass';
import { readDoubles } from './double-chunks';
import type { LookedRun } from './look-at-runs';
import type { SourceHead } from './source-head';
import { sqlName, sqlText, sqlTextList } from './sql-text';
import { checkStampOrder } from './stamp-order';
import { sampleStamps } from './stamp-samples';

/** Column of data.parquet that says which run a row belongs to, 0-based. */
export const RUN_COLUMN = 'run';

/** A run with its number in the whole ensemble. */
export type NumberedRun = LookedRun & Readonly<{ number: number; head: SourceHead }>;

/**
 * `file` holds `run`, `t` and the described channels; rows of the `doubtful` runs do not count: a
 * cell, row or stamp of them did not read, or stamps do not ascend.
 */
export type AlikeRows = Readonly<{
  file: string;
  channels: readonly PlannedChannel[];
  doubtful: ReadonlySet<number>;
}>;

/** Stamps of each run that the SQL form of its time code is tried on. */
const STAMPS_A_RUN = 20;

type AlikeRequest = Readonly<{
  connection: DuckDBConnection;
  zero: Instant;
  /** Where the rows go. */
  file: string;
}>;

/** Runs whose stamps do not ascend or are missing. */
async function runsOutOfOrder({ connection, file }: AlikeRequest): Promise<readonly number[]> {
  const [run = new Float64Array(), tS = new Float64Array()] = await readDoubles(
    connection,
    `SELECT CAST(${RUN_COLUMN} AS DOUBLE), coalesce(${TIME_COLUMN}, 'nan'::DOUBLE) FROM read_parquet(${sqlText(file)})`,
    1 << 16,
  );
  const found: number[] = [];
  let from = 0;
  for (let row = 1; row <= run.length; row += 1) {
    if (row < run.length && run[row] === run[from]) continue;
    const { dropped, unreadable } = checkStampOrder(tS.subarray(from, row));
    if (dropped.length + unreadable.length > 0) found.push(run[from] ?? Number.NaN);
    from = row;
  }
  return found;
}

/** @returns null where the runs' stamps cannot be read in SQL */
export async function readAlikeRuns(
  runs: readonly NumberedRun[],
  request: AlikeRequest,
): Promise<AlikeRows | null> {
  const [first] = runs;
  if (first === undefined) return null;
  const { connection, file } = request;
  const { dialect, spec } = first.head;
  const { plan } = planColumns(dialect.columns, spec, new Set());
  const input: PassInput = {
    connection,
    file: first.file,
    dataFile: file,
    dialect,
    header: dialect.columns,
    plan,
    time: spec.time,
    absentWords: missingWords(spec),
    zero: request.zero,
    turns: [],
    stampSamples: runs.flatMap(({ scan }) =>
      sampleStamps(scan, dialect, plan).slice(0, STAMPS_A_RUN),
    ),
    metadataOf: () => '',
    hasQuote: false,
  };
  const stamp = await provenStampSql(input);
  if (stamp === null) return null;
  const isText = spec.time.code !== 'elapsed-seconds';
  const channels = plan.channels.filter(({ mapped }) => mapped);
  // A column that nobody described may hold words.
  const numbers = new Set([...channels.map(({ index }) => index), ...(isText ? [] : plan.stamps)]);
  const types = dialect.columns.map((_, index) =>
    numbers.has(index) ? ('DOUBLE' as const) : ('VARCHAR' as const),
  );
  const files = runs.map((run) => path.resolve(run.file));
  const scan = csvScanSql({ ...input, file: files, types, rejectsTable: 'run_rejects' });
  const numberOf = (name: string): string =>
    `[${runs.map(({ number }) => number)}][list_position(${sqlTextList(files)}, ${name})]`;
  const columns = [
    `CAST(${numberOf(FILE_COLUMN)} AS INTEGER) AS ${RUN_COLUMN}`,
    `${stamp} AS ${TIME_COLUMN}`,
    ...channels.map(
      (channel) =>
        `${storedNumberSql(sqlName(cellName(channel.index)), channel)} AS ${sqlName(channel.stored)}`,
    ),
  ];
  await connection.run(
    `COPY (SELECT ${columns.join(', ')} FROM ${scan}) TO ${sqlText(file)} ${parquetOptions('')}`,
  );
  const [rejected = []] = await readDoubles(
    connection,
    `SELECT DISTINCT CAST(${numberOf('s.file_path')} AS DOUBLE)
     FROM run_rejects r JOIN run_rejects_scan s USING (scan_id, file_id)`,
    runs.length,
  );
  return {
    file,
    channels,
    doubtful: new Set([...rejected, ...(await runsOutOfOrder(request))]),
  };
}
