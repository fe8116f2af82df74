import { expect, test } from 'vitest';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { readTelemetrySource } from '@/lib/server/samples/read-telemetry';
import { channelSpec, sourceOnDisk, telemetrySpec, ZERO } from '../../support/telemetry-spec';

const SPEC = telemetrySpec({ layout: 'long', nameColumn: 'name', valueColumn: 'value' });

async function importText(text: string, spec = SPEC) {
  const disk = sourceOnDisk(text);
  const { samplesRoot } = disk;
  const outcome = await importTelemetry({
    parts: [{ name: spec.file, file: disk.file }],
    spec,
    zero: ZERO,
    samplesRoot,
  });
  const source =
    outcome.folder === null ? null : await readTelemetrySource(samplesRoot, outcome.folder, spec);
  return { ...outcome, source };
}

const list = (values: Float64Array | undefined) => Array.from(values ?? []);

test('samples of a long file stand at their own stamps, in the order of time', async () => {
  const text = 't,name,value\n0,a,1\n0,b,10\n1,a,2\n0.5,b,20\n1.5,a,3\n1.5,extra,7\n';
  const { source, report, issues } = await importText(text);
  expect(issues).toEqual([]);
  expect(list(source?.tS)).toEqual([0, 0.5, 1, 1.5]);
  expect(source?.channels.map((channel) => [channel.name, list(channel.values)])).toEqual([
    ['a', [1, Number.NaN, 2, 3]],
    ['b', [10, 20, Number.NaN, Number.NaN]],
  ]);
  expect(report).toMatchObject({ rowsRead: 6, rows: 4, rowsRejected: 0 });
  expect(report?.channels.map((channel) => channel.name)).toEqual(['a', 'b', 'extra']);
});

test('faults of a long file are told by channel and line', async () => {
  const text =
    't,name,value\n0,a,1\n0,b,1\n1,a,bad\nx,a,1\n2,a,NaN\n2,a,5\n1.5,b,3\n1,b,4\n3,a\n4,,1\n';
  const { source, report, issues } = await importText(text);
  expect(list(source?.tS)).toEqual([0, 1, 1.5, 2]);
  expect(report).toMatchObject({
    rowsRead: 10,
    rowsRejected: 3,
    cellsRejected: 1,
    rowsOutOfOrder: 2,
  });
  expect(report?.stampFaults.map(({ kind, line }) => [kind, line])).toEqual([
    ['duplicate', 7],
    ['out_of_order', 9],
  ]);
  expect(
    issues.filter((issue) => issue.line !== undefined).map(({ code, line }) => [code, line]),
  ).toEqual([
    ['time-not-ascending', 7],
    ['not-a-number', 4],
    ['stamp-unreadable', 5],
    ['too-few-cells', 10],
    ['row-unreadable', 11],
  ]);
});

test('dated stamps of a long file are read as in a wide one', async () => {
  const time = { columns: ['utc'], code: 'iso8601', scale: 'UTC', from: ZERO } as const;
  const text = 'utc,name,value\n2025-03-04T10:00:00.25Z,a,1\n2025-03-04T10:00:01Z,b,2\n';
  const { source } = await importText(text, { ...SPEC, time });
  expect(list(source?.tS)).toEqual([0.25, 1]);
});

test('a channel that no row is named after is an error', async () => {
  const { folder, issues } = await importText('t,name,value\n0,a,1\n1,a,2\n');
  expect(folder).toBeNull();
  expect(issues.map((issue) => issue.code)).toEqual(['channel-missing']);
});

test('a long file of more channels than are written in one go keeps each at its stamps', async () => {
  const names = Array.from({ length: 150 }, (_, index) => `c${index}`);
  const lines = names.flatMap((name, index) => [`${index % 7},${name},${index}`, `9,${name},-1`]);
  const spec = telemetrySpec({
    ...SPEC,
    channels: ['c0', 'c64', 'c149'].map((name) => channelSpec(name)),
  });
  const { source, report } = await importText(['t,name,value', ...lines].join('\n'), spec);
  expect(list(source?.tS)).toEqual([0, 1, 2, 3, 4, 5, 6, 9]);
  expect(report?.channels.map((channel) => channel.samples)).toEqual(names.map(() => 2));
  for (const [channel, index] of [
    [0, 0],
    [1, 64],
    [2, 149],
  ] as const) {
    const values = list(source?.channels[channel]?.values);
    expect(values[index % 7]).toBe(index);
    expect(values[7]).toBe(-1);
    expect(values.filter((value) => !Number.isNaN(value))).toHaveLength(2);
  }
});

test('a channel of a long file whose values are no numbers is an error', async () => {
  const { issues } = await importText('t,name,value\n0,a,x\n0,b,1\n1,a,y\n1,b,2\n2,b,3\n3,b,4\n');
  expect(
    issues.filter(({ severity }) => severity === 'error').map(({ message }) => message),
  ).toEqual(['2 of 2 values of "a" are no numbers; the decimal sign or the column may be another']);
});

test('a long file with a header and no row says that alone', async () => {
  const { issues } = await importText('t,name,value\n');
  expect(issues.map(({ code }) => code)).toEqual(['no-rows']);
});

test('a cell of "no sample" with blanks round it is empty, and so is a remark no sample', async () => {
  const text =
    't,name,value\n0,a,1\n0, b , n/a \n# a, long, remark\n1,a, \n1,b,2\n# end\n2,a,\n2,b,3\n';
  const { source, report, issues } = await importText(text);
  expect(issues).toEqual([]);
  expect(report).toMatchObject({ rowsRead: 6, rowsRejected: 0, cellsRejected: 0 });
  expect(list(source?.channels[1]?.values)).toEqual([Number.NaN, 2, 3]);
});

test('a row without stamp, name and number is one rejected row', async () => {
  const { report } = await importText('t,name,value\n0,a,1\nx,,bad\ny,a,bad\n1,a,2\n1,b,2\n');
  expect(report).toMatchObject({ rowsRead: 5, rowsRejected: 2, cellsRejected: 0 });
});

test('stamps of several channels that step back together are one run, a stray one is its own fault', async () => {
  const rows = (fromS: number, count: number) =>
    Array.from({ length: count }, (_, at) => `${fromS + at},a,${at}\n${fromS + at},b,${at}\n`);
  const stray = '900,a,7\n';
  const lines = [...rows(0, 20), stray, ...rows(20, 40), ...rows(30, 5), ...rows(100, 5)];
  const { source, report } = await importText(`t,name,value\n${lines.join('')}`);
  expect(source?.tS).toHaveLength(65);
  expect(report).toMatchObject({ rowsOutOfOrder: 11, rows: 65 });
  expect(
    report?.stampFaults.map(({ kind, line, startS, endS }) => [kind, line, startS, endS]),
  ).toEqual([
    ['out_of_order', 42, 20, 900],
    ['out_of_order', 123, 30, 59],
    ['jump', 133, 59, 100],
  ]);
});

test('a column of units gives the units left out, and speaks against those that differ', async () => {
  const text = 't,name,value,unit\n0,a,10,FT\n0,b,1,m\n1,a,20,FT\n1,b,2,m\n2,a,30,FT\n';
  const bare = channelSpec('a', { unit: null, siUnit: '', as: 'position.x' });
  const left = await importText(text, { ...SPEC, channels: [bare, channelSpec('b')] });
  expect(left.issues).toEqual([]);
  // The international foot is 0.3048 m: NIST SP 811 (2008), appendix B.8.
  expect(list(left.source?.channels[0]?.values)).toEqual([3.048, 6.096, 9.144]);
  const stated = await importText(text, {
    ...SPEC,
    channels: [channelSpec('a'), channelSpec('b')],
  });
  expect(stated.issues).toMatchObject([{ code: 'unit-contradicts', severity: 'warning' }]);
});
