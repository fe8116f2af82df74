import path from 'node:path';
import { invariant } from '@/lib/core/result';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import type { TelemetrySource } from '@/lib/core/session/session-input';
import { TIME_COLUMN } from './column-plan';
import { columnsOf, samplePath } from './columns-of';
import { readDoubles } from './double-chunks';
import { withConnection } from './engine';
import { DATA_FILE } from './seal-folder';
import { sqlName, sqlText } from './sql-text';

/**
 * A folder's mapped channels as typed arrays, in file order, with the clock and the declarations of
 * `spec`, which must be the one the folder was imported with.
 */
export async function readTelemetrySource(
  samplesRoot: string,
  folder: string,
  spec: TelemetrySpec,
): Promise<TelemetrySource> {
  const manifest = await columnsOf(samplesRoot, folder);
  const { source } = manifest;
  invariant(source !== null, `the samples of ${folder} come from no source`);
  const mapped = manifest.channels.filter((channel) => channel.mapped);
  const select = [TIME_COLUMN, ...mapped.map((channel) => channel.stored)].map(
    (name) => `coalesce(${sqlName(name)}, 'nan'::DOUBLE)`,
  );
  const data = path.resolve(samplePath(samplesRoot, folder), DATA_FILE);
  const columns = await withConnection(samplesRoot, (connection) =>
    readDoubles(connection, `SELECT ${select} FROM read_parquet(${sqlText(data)})`, manifest.rows),
  );
  const [tS = new Float64Array(0), ...values] = columns;
  invariant(tS.length === manifest.rows, `${folder} has ${tS.length} rows, not ${manifest.rows}`);
  return {
    type: 'telemetry',
    file: spec.file,
    sha256: source.sha256,
    clock: spec.clock,
    tS,
    channels: mapped.map((channel, index) => ({
      name: channel.name,
      as: channel.as,
      unit: channel.unit,
      values: values[index] ?? new Float64Array(0),
    })),
    rowsRead: manifest.rowsRead,
    rowsRejected: manifest.rowsRejected,
    stampFaults: manifest.stampFaults,
    declared: spec.declared,
  };
}
