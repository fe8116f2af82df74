/** One source in several files: one after another in time, or of one channel each. */
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { readTelemetrySource } from '@/lib/server/samples/read-telemetry';
import { channelSpec, sourceOnDisk, telemetrySpec, ZERO } from '../../support/telemetry-spec';

const PLAIN = 't,a,b\n0,1.5,10\n1,2.5,11\n2,3.5,12\n';

test('several files make one source in the order of time, and an overlap is said', async () => {
  const disk = sourceOnDisk('t,a,b\n2,3.5,12\n3,4.5,13\n', 'late.csv');
  const early = path.join(disk.folder, 'early.csv');
  writeFileSync(early, '# first\nt,a,b\n0,1.5,10\n1,2.5,11\n2,3.5,12\n1,bad,9\n');
  const parts = [
    { name: 'late.csv', file: disk.file },
    { name: 'early.csv', file: early },
  ];
  const spec = telemetrySpec({ file: '*.csv', files: ['*.csv'] });
  const { samplesRoot } = disk;
  const { folder, issues } = await importTelemetry({ parts, spec, zero: ZERO, samplesRoot });
  const source = await readTelemetrySource(samplesRoot, folder ?? '', spec);
  expect(Array.from(source.tS)).toEqual([0, 1, 2, 3]);
  expect(source.stampFaults).toMatchObject([
    { kind: 'out_of_order', line: 6, file: 'early.csv' },
    { kind: 'duplicate', line: 2, file: 'late.csv' },
  ]);
  const order = issues.find(({ code }) => code === 'time-not-ascending');
  expect(order).toMatchObject({ file: 'early.csv', line: 6 });
  expect(order?.message).toContain(
    'line 6 of early.csv steps back 1 s, line 2 of late.csv repeats',
  );
  const bad = issues.find(({ code }) => code === 'not-a-number');
  expect(bad).toMatchObject({ file: 'early.csv', line: 6 });
});

test('files whose rows of units differ make no source', async () => {
  const bare = { unit: null, siUnit: '' };
  const channels = [channelSpec('a', bare), channelSpec('b', bare)];
  const disk = sourceOnDisk('t,a,b\ns,m,m\n0,1,2\n1,1,2\n', 'one.csv');
  const two = path.join(disk.folder, 'two.csv');
  writeFileSync(two, 't,a,b\ns,m,ft\n2,1,2\n3,1,2\n');
  const parts = [
    { name: 'one.csv', file: disk.file },
    { name: 'two.csv', file: two },
  ];
  const { samplesRoot } = disk;
  const spec = telemetrySpec({ channels });
  const { issues } = await importTelemetry({ parts, spec, zero: ZERO, samplesRoot });
  expect(issues).toMatchObject([{ code: 'parts-differ', file: 'two.csv', line: 2 }]);
  expect(issues[0]?.message).toContain('"b" is in ft here and in m there');
});

test('files with other columns are refused by name', async () => {
  const disk = sourceOnDisk(PLAIN, 'one.csv');
  const other = path.join(disk.folder, 'two.csv');
  writeFileSync(other, 't,a,c\n5,1,2\n6,1,2\n');
  const parts = [
    { name: 'one.csv', file: disk.file },
    { name: 'two.csv', file: other },
  ];
  const spec = telemetrySpec();
  const { issues } = await importTelemetry({
    parts,
    spec,
    zero: ZERO,
    samplesRoot: disk.samplesRoot,
  });
  expect(issues).toMatchObject([{ code: 'parts-differ', file: 'two.csv', line: 1 }]);
});

/** The samples of a source whose files share only their stamps. */
async function importBeside(files: Readonly<Record<string, string>>) {
  const disk = sourceOnDisk('', 'unused');
  const parts = Object.entries(files).map(([name, text]) => {
    const file = path.join(disk.folder, name);
    writeFileSync(file, text);
    return { name, file };
  });
  const spec = telemetrySpec({ file: '*.csv', files: ['*.csv'] });
  const { samplesRoot } = disk;
  const { folder, issues } = await importTelemetry({ parts, spec, zero: ZERO, samplesRoot });
  const source = folder === null ? null : await readTelemetrySource(samplesRoot, folder, spec);
  return { source, issues };
}

test('files of one channel each are joined by their stamps, each in its own dress', async () => {
  const { source, issues } = await importBeside({
    'a.csv': 't,a,note\n0,1.5,"x, y\nz"\n1,2.5,\n2,3.5,\n',
    'b.csv': '# one\r\nt;b\r\ns;m\r\n0;10,0\r\n2;12,0\r\n',
  });
  expect(Array.from(source?.tS ?? [])).toEqual([0, 1, 2]);
  expect(source?.channels.map(({ values }) => Array.from(values))).toEqual([
    [1.5, 2.5, 3.5],
    [10, Number.NaN, 12],
  ]);
  expect(issues).toMatchObject([{ code: 'columns-left-out', severity: 'note' }]);
  expect(issues[0]?.message).toContain('note (a.csv)');
});

test('what is wrong in one of them is told with its own file and line', async () => {
  const { source, issues } = await importBeside({
    'a.csv': 't,a,q\n0,1.5,"x\nz"\n1,off,\n2,1,2,3\n',
    'b.csv': 't,b\n0,10\n5,0,7\n1,11\n',
  });
  expect(Array.from(source?.tS ?? [])).toEqual([0, 1]);
  const told = issues.filter(({ line }) => line !== undefined);
  expect(told.map(({ code, file, line }) => [code, file, line])).toEqual([
    ['not-a-number', 'a.csv', 4],
    ['too-few-cells', 'a.csv', 5],
    ['too-few-cells', 'b.csv', 3],
  ]);
  expect(told[2]?.message).toContain('5,0,7');
});

test('a quote that nothing closes costs its own row of them, and the rows below are read', async () => {
  const { source, issues } = await importBeside({
    'a.csv': 't,a\n0,1\n1,"2\n2,3\n3,4\n',
    'b.csv': 't,b\n0,10\n3,13\n',
  });
  expect(Array.from(source?.tS ?? [])).toEqual([0, 2, 3]);
  const told = issues.filter(({ line }) => line !== undefined);
  expect(told.map(({ file, line }) => [file, line])).toEqual([['a.csv', 3]]);
});

test('a channel that none of them holds is an error', async () => {
  const { source, issues } = await importBeside({ 'a.csv': 't,a\n0,1\n', 'c.csv': 't,c\n0,1\n' });
  expect(source).toBeNull();
  expect(issues.filter(({ severity }) => severity === 'error')).toMatchObject([
    { code: 'channel-missing', expected: 'b' },
  ]);
});
