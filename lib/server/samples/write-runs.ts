/** The data file of an ensemble of runs, and what stands in its folder's manifest. */
import path from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { TIME_COLUMN } from './column-plan';
import { parquetOptions } from './data-pass';
import { readDoubles } from './double-chunks';
import type { ImportReport } from './import-telemetry';
import type { LookedRun } from './look-at-runs';
import { type AlikeRows, RUN_COLUMN } from './read-alike-runs';
import { IMPORTER_VERSION, type SampleFile, type SampleManifest } from './sample-manifest';
import { DATA_FILE } from './seal-folder';
import { sqlName, sqlText } from './sql-text';

/** A run that was read by itself: its number, its data file and what was said of it. */
export type SingleRun = Readonly<{ number: number; file: string; report: ImportReport }>;

type Channel = Pick<
  SampleManifest['channels'][number],
  'name' | 'stored' | 'as' | 'unit' | 'sourceUnit'
>;

export type RunsToWrite = Readonly<{
  connection: DuckDBConnection;
  temporary: string;
  spec: TelemetrySpec;
  quick: AlikeRows | null;
  singles: readonly SingleRun[];
}>;

function describedChannels({ report }: SingleRun): readonly Channel[] {
  return report.channels.filter(({ mapped }) => mapped);
}

/** Each described channel once, by its stored name. */
function channelsOf({ quick, singles }: RunsToWrite): readonly Channel[] {
  const found = new Map<string, Channel>();
  for (const channel of [...(quick?.channels ?? []), ...singles.flatMap(describedChannels)]) {
    const { name, stored, as, unit, sourceUnit } = channel;
    if (!found.has(stored)) found.set(stored, { name, stored, as, unit, sourceUnit });
  }
  return [...found.values()];
}

/** Writes data.parquet: run after run, rows of a run in the order of time. */
export async function writeRuns(runs: RunsToWrite): Promise<readonly Channel[]> {
  const { connection, temporary, quick, singles } = runs;
  const channels = channelsOf(runs);
  const parts = singles.map((single) => {
    const names = [TIME_COLUMN, ...describedChannels(single).map(({ stored }) => stored)];
    return `SELECT ${single.number} AS ${RUN_COLUMN}, ${names.map(sqlName)} FROM read_parquet(${sqlText(single.file)})`;
  });
  if (quick !== null) {
    // No run has the number -1: the list is never empty.
    const doubtful = [-1, ...quick.doubtful].join(', ');
    parts.unshift(
      `SELECT * FROM read_parquet(${sqlText(quick.file)}) WHERE ${RUN_COLUMN} NOT IN (${doubtful})`,
    );
  }
  const metadata = JSON.stringify({
    format: 'wakeline/samples/1',
    importer: IMPORTER_VERSION,
    run: { column: RUN_COLUMN, from: 0 },
    time: { column: TIME_COLUMN, unit: 's', from: "session zero, the run's own clock" },
    channels: channels.map(({ stored, name, as, unit }) => ({ column: stored, name, as, unit })),
  });
  // Runs read in one statement are in order as they stand.
  const order = singles.length === 0 ? '' : `ORDER BY ${RUN_COLUMN}, ${TIME_COLUMN}`;
  await connection.run(
    `COPY (SELECT * FROM (${parts.join(' UNION ALL BY NAME ')}) ${order})
     TO ${sqlText(path.join(temporary, DATA_FILE))} ${parquetOptions(metadata)}`,
  );
  return channels;
}

export type WrittenRuns = RunsToWrite &
  Readonly<{
    channels: readonly Channel[];
    runs: readonly LookedRun[];
    sha256: string;
    data: SampleFile;
  }>;

async function rowsByRun({ connection, temporary }: RunsToWrite): Promise<Map<number, number>> {
  const [run = new Float64Array(), rows = new Float64Array()] = await readDoubles(
    connection,
    `SELECT CAST(${RUN_COLUMN} AS DOUBLE), CAST(count(*) AS DOUBLE)
     FROM read_parquet(${sqlText(path.join(temporary, DATA_FILE))}) GROUP BY 1`,
    1,
  );
  return new Map(Array.from(run, (number, index) => [number, rows[index] ?? 0]));
}

/** Number of samples, smallest and largest of the time and each channel. */
async function extents({ connection, temporary, channels }: WrittenRuns) {
  const asked = [TIME_COLUMN, ...channels.map(({ stored }) => stored)].flatMap((name) =>
    ['count', 'min', 'max'].map(
      (what) => `coalesce(CAST(${what}(${sqlName(name)}) AS DOUBLE), 'nan'::DOUBLE)`,
    ),
  );
  const file = sqlText(path.join(temporary, DATA_FILE));
  const found = await readDoubles(connection, `SELECT ${asked} FROM read_parquet(${file})`, 1);
  const numbers = found.map((column) => column[0] ?? Number.NaN);
  const orNull = (value = Number.NaN): number | null => (Number.isNaN(value) ? null : value);
  return (index: number) => ({
    samples: numbers[3 * index] ?? 0,
    min: orNull(numbers[3 * index + 1]),
    max: orNull(numbers[3 * index + 2]),
  });
}

/** The manifest of the folder, but for the session's zero. */
export async function runsManifest(written: WrittenRuns): Promise<SampleManifest> {
  const { spec, channels, runs, singles, sha256, data } = written;
  const rowsOf = await rowsByRun(written);
  const extentOf = await extents(written);
  const reports = new Map(singles.map(({ number, report }) => [number, report]));
  const listed = runs.flatMap(({ name, scan }, number) => {
    const rows = rowsOf.get(number);
    if (rows === undefined) return [];
    const report = reports.get(number);
    return [
      {
        number,
        name,
        sha256: scan.sha256,
        bytes: scan.bytes,
        rows,
        rowsRead: report?.rowsRead ?? rows,
        rowsRejected: report?.rowsRejected ?? 0,
      },
    ];
  });
  const sum = (of: (run: (typeof listed)[number]) => number): number =>
    listed.reduce((total, run) => total + of(run), 0);
  const { min: fromS, max: toS } = extentOf(0);
  return {
    format: 'wakeline/samples/1',
    importer: IMPORTER_VERSION,
    content: 'runs',
    source: { file: spec.file, sha256, bytes: sum(({ bytes }) => bytes) },
    parts: [],
    runs: listed,
    zeroTaiNs: null,
    dialect: null,
    rows: sum(({ rows }) => rows),
    rowsRead: sum(({ rowsRead }) => rowsRead),
    rowsRejected: sum(({ rowsRejected }) => rowsRejected),
    cellsRejected: singles.reduce((total, { report }) => total + report.cellsRejected, 0),
    rowsOutOfOrder: singles.reduce((total, { report }) => total + report.rowsOutOfOrder, 0),
    stampFaults: [],
    fromS,
    toS,
    channels: channels.map((channel, index) => ({
      ...channel,
      mapped: true,
      notFinite: 0,
      rejectedCells: 0,
      ...extentOf(index + 1),
    })),
    textColumns: [],
    files: [data],
    stageSeconds: {},
  };
}
