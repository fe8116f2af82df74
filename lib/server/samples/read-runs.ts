/** The runs of an ensemble's folder as sources, one typed array a column and run. */
import path from 'node:path';
import { invariant } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { TelemetrySource } from '@/lib/core/session/session-input';
import { TIME_COLUMN } from './column-plan';
import { columnsOf, samplePath } from './columns-of';
import { readDoubles } from './double-chunks';
import { withConnection } from './engine';
import { RUN_COLUMN } from './read-alike-runs';
import { DATA_FILE } from './seal-folder';
import { sqlName, sqlText } from './sql-text';

/**
 * All runs, in the order of their numbers.
 *
 * @param spec the description that the runs share, which must be the one they were imported with
 */
export async function readRuns(
  samplesRoot: string,
  folder: string,
  spec: TelemetrySpec,
): Promise<readonly TelemetrySource[]> {
  const { runs = [], channels, rows } = await columnsOf(samplesRoot, folder);
  const names = [TIME_COLUMN, ...channels.map(({ stored }) => stored)];
  const select = [
    `CAST(${RUN_COLUMN} AS DOUBLE)`,
    ...names.map((name) => `coalesce(${sqlName(name)}, 'nan'::DOUBLE)`),
  ];
  const data = path.resolve(samplePath(samplesRoot, folder), DATA_FILE);
  const [run = new Float64Array(), tS = new Float64Array(), ...values] = await withConnection(
    samplesRoot,
    (connection) =>
      readDoubles(connection, `SELECT ${select} FROM read_parquet(${sqlText(data)})`, rows),
  );
  invariant(run.length === rows, `${folder} has ${run.length} rows, not ${rows}`);
  let from = 0;
  return runs.map((each): TelemetrySource => {
    const to = from + each.rows;
    invariant(run[from] === each.number && run[to - 1] === each.number, 'rows of runs are mixed');
    const source: TelemetrySource = {
      type: 'telemetry',
      file: each.name,
      sha256: each.sha256,
      clock: spec.clock,
      tS: tS.subarray(from, to),
      channels: channels.flatMap(({ name, as, unit }, index) => {
        const column = values[index]?.subarray(from, to) ?? new Float64Array();
        // A run without the channel has no sample of it.
        return column.every(Number.isNaN) ? [] : [{ name, as, unit, values: column }];
      }),
      rowsRead: each.rowsRead,
      rowsRejected: each.rowsRejected,
      stampFaults: [],
      declared: spec.declared,
    };
    from = to;
    return source;
  });
}
