import { readdirSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { readTelemetrySource } from '@/lib/server/samples/read-telemetry';
import {
  channelSpec,
  instantOf,
  sourceOnDisk,
  telemetrySpec,
  ZERO,
} from '../../support/telemetry-spec';

async function importText(content: string | Uint8Array, spec: TelemetrySpec, zero = ZERO) {
  const disk = sourceOnDisk(content);
  const outcome = await importTelemetry({
    file: disk.file,
    spec,
    zero,
    samplesRoot: disk.samplesRoot,
  });
  const source =
    outcome.folder === null
      ? null
      : await readTelemetrySource(disk.samplesRoot, outcome.folder, spec);
  return { ...disk, ...outcome, source };
}

const list = (values: Float64Array | undefined) => Array.from(values ?? []);

test('a plain file comes back number by number, in SI', async () => {
  const spec = telemetrySpec({
    channels: [
      channelSpec('a', { unit: 'deg', siUnit: 'rad', toSi: Math.PI / 180 }),
      channelSpec('b', { sign: -1 }),
    ],
  });
  const { source, report, samplesRoot, folder, issues } = await importText(
    't,a,b\n0,180,1\n0.5,,2\n1,90,-3\n',
    spec,
  );
  expect(issues).toEqual([]);
  expect(list(source?.tS)).toEqual([0, 0.5, 1]);
  expect(list(source?.channels[0]?.values)).toEqual([Math.PI, Number.NaN, Math.PI / 2]);
  expect(list(source?.channels[1]?.values)).toEqual([-1, -2, 3]);
  expect(report).toMatchObject({ rows: 3, rowsRead: 3, rowsRejected: 0, fromS: 0, toS: 1 });
  expect(readdirSync(samplesRoot)).toEqual([folder]);
});

test('one bad cell costs one cell, one bad row costs one row, each with its line', async () => {
  const text = 't,a,b\n0,1,2\n\n1,bad,3\n2,5\n3,6,7,8\nx,1,1\n4,9,NaN\n4,1,1\n3.5,2,2\n5,inf,1\n';
  const { source, report, issues } = await importText(text, telemetrySpec());
  expect(list(source?.tS)).toEqual([0, 1, 4, 5]);
  expect(list(source?.channels[0]?.values)).toEqual([1, Number.NaN, 9, Number.NaN]);
  expect(list(source?.channels[1]?.values)).toEqual([2, 3, Number.NaN, 1]);
  expect(report).toMatchObject({
    rows: 4,
    rowsRead: 9,
    rowsRejected: 3,
    cellsRejected: 1,
    rowsOutOfOrder: 2,
  });
  expect(report?.stampFaults).toEqual([
    { kind: 'duplicate', startS: 4, endS: 4, line: 9 },
    { kind: 'out_of_order', startS: 3.5, endS: 4, line: 10 },
  ]);
  expect(issues.map((issue) => [issue.code, issue.line ?? null])).toEqual([
    ['rejects', null],
    ['time-not-ascending', 9],
    ['not-finite', null],
    ['not-a-number', 4],
    ['too-few-cells', 5],
    ['too-many-cells', 6],
    ['stamp-unreadable', 7],
  ]);
});

test('a leap second is a second', async () => {
  const spec = telemetrySpec({
    time: { columns: ['t'], code: 'iso8601', scale: 'UTC', from: ZERO },
  });
  const zero = instantOf('2016-12-31T23:59:58Z');
  const text =
    't,a,b\n2016-12-31T23:59:59.5Z,1,1\n2016-12-31T23:59:60.000000001Z,2,2\n2017-01-01T00:00:00.25Z,3,3\n';
  const { source, issues } = await importText(text, spec, zero);
  expect(issues).toEqual([]);
  expect(list(source?.tS)).toEqual([1.5, 2.000000001, 3.25]);
});
