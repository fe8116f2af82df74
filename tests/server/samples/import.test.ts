import { mkdirSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { sweepTemporary } from '@/lib/server/samples/sweep-temporary';
import { verifyFolder } from '@/lib/server/samples/verify-folder';
import { importText } from '../../support/import-text';
import { channelSpec, sourceOnDisk, telemetrySpec, ZERO } from '../../support/telemetry-spec';

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

test('a stamp of another form says what the code looks like and what to write', async () => {
  const time = { columns: ['t'], code: 'iso8601', scale: 'UTC', from: ZERO } as const;
  const text = 't,a,b\n2025-03-04T10:00:00Z,1,2\n04-Mar-2025 10:00:01,1,2\n';
  const { issues } = await importText(text, telemetrySpec({ time }));
  const issue = issues.find(({ code }) => code === 'stamp-unreadable');
  expect(issue).toMatchObject({
    line: 3,
    expected: expect.stringContaining('2031-04-17T09:12:30'),
  });
  expect(issue?.message).toContain('write months as numbers');
});

test('a decimal comma is found, and a point is then no number', async () => {
  const rows = Array.from({ length: 40 }, (_, row) => `${row},5;${row},25;-2`);
  const found = await importText(`t;a;b\n${rows.join('\n')}\n`, telemetrySpec());
  expect(found.issues).toEqual([]);
  expect(found.report?.dialect).toMatchObject({ separator: ';', decimal: ',' });
  expect(list(found.source?.tS.slice(0, 2))).toEqual([0.5, 1.5]);
  expect(list(found.source?.channels[0]?.values.slice(0, 2))).toEqual([0.25, 1.25]);

  const dialect = { separator: ';', decimal: ',', encoding: null } as const;
  const text = 't;a;b\n0,0;1,5;-2\n0,5;2,25;1.5\n1,0;3;4\n';
  const { source, issues } = await importText(text, telemetrySpec({ dialect }));
  expect(list(source?.tS)).toEqual([0, 0.5, 1]);
  expect(list(source?.channels[0]?.values)).toEqual([1.5, 2.25, 3]);
  expect(list(source?.channels[1]?.values)).toEqual([-2, Number.NaN, 4]);
  expect(issues.map((issue) => [issue.code, issue.line ?? null])).toContainEqual([
    'not-a-number',
    3,
  ]);
});

const PLAIN = 't,a,b\n0,1,2\n1,3,4\n';
const BYTES: [string, string | Uint8Array, string | null][] = [
  ['a byte order mark', `\ufeff${PLAIN}`, null],
  ['CR LF', PLAIN.replaceAll('\n', '\r\n'), null],
  ['line ends of both kinds', PLAIN.replace('\n', '\r\n'), null],
  ['line ends that are CR alone', PLAIN.replaceAll('\n', '\r'), null],
  ['UTF-16 with its mark', Buffer.from(`\ufeff${PLAIN}`, 'utf16le'), null],
  [
    'windows-1252 that is stated',
    Buffer.from(PLAIN.replace('b', 'b').replace('t,', 't,'), 'latin1'),
    'windows-1252',
  ],
  ['quoted cells and names', '"t","a","b"\n"0","1","2"\n1,"3",4\n', null],
  ['no line end at the end', PLAIN.trimEnd(), null],
  ['blank lines', 't,a,b\n\n0,1,2\n\n\n1,3,4\n\n', null],
];

test.each(BYTES)('the same samples come from a file with %s', async (_, bytes, encoding) => {
  const spec = telemetrySpec({ dialect: { separator: null, decimal: null, encoding } });
  const { source, issues, report } = await importText(bytes, spec);
  expect(issues).toEqual([]);
  expect(report).toMatchObject({ rows: 2, rowsRead: 2, rowsRejected: 0 });
  expect(list(source?.tS)).toEqual([0, 1]);
  expect(source?.channels.map((channel) => list(channel.values))).toEqual([
    [1, 3],
    [2, 4],
  ]);
});

const REFUSED: [string, string | Uint8Array, string][] = [
  ['an empty file', '', 'file-empty'],
  ['a header alone', 't,a,b\n', 'no-rows'],
  ['a header without the time column', 'time,a,b\n0,1,2\n1,2,3\n', 'column-missing'],
  ['a header without a channel', 't,a,c\n0,1,2\n1,2,3\n', 'column-missing'],
  ['a channel of words', 't,a,b\n0,on,1\n1,off,2\n2,on,3\n', 'channel-not-numeric'],
  ['stamps of another code', 't,a,b\n10:00:00 h,1,2\n10:00:01 h,2,3\n', 'no-usable-rows'],
];

test.each(REFUSED)(
  '%s is refused with one clear error and leaves nothing',
  async (_, bytes, code) => {
    const { folder, issues, samplesRoot } = await importText(bytes, telemetrySpec());
    expect(folder).toBeNull();
    expect(issues.filter((issue) => issue.severity === 'error').map((issue) => issue.code)).toEqual(
      [code],
    );
    expect(readdirSync(samplesRoot)).toEqual([]);
  },
);

test('a name given twice in the header is refused', async () => {
  const { folder, issues } = await importText('t,a,a,b\n0,1,2,3\n1,2,3,4\n', telemetrySpec());
  expect(folder).toBeNull();
  expect(issues.some((issue) => issue.severity === 'error')).toBe(true);
});

test('columns that nobody described are kept: numbers as numbers, words as words', async () => {
  const text = 't,a,A,mode,b,T\n0,1,10,hold,2,7\n1,2,20,close,3,8\n';
  const { report, source, issues } = await importText(text, telemetrySpec());
  expect(issues).toEqual([]);
  expect(
    report?.channels.map(({ name, stored, mapped, max }) => [name, stored, mapped, max]),
  ).toEqual([
    ['a', 'a', true, 2],
    ['A', 'A_2', false, 20],
    ['b', 'b', true, 3],
    ['T', 'T_2', false, 8],
  ]);
  expect(report?.textColumns).toEqual(['mode']);
  expect(source?.channels.map((channel) => channel.name)).toEqual(['a', 'b']);
});

test('a quoted cell with a line end in it does not shift the lines that are named', async () => {
  const spec = telemetrySpec();
  const text = 't,note,a,b\n0,"two\nlines",1,2\n1,plain,bad,3\n2,"x",1\n3,y,1,1\n2.5,z,1,1\n';
  const { report, issues } = await importText(text, spec);
  expect(
    issues.flatMap((issue) => (issue.line === undefined ? [] : [[issue.code, issue.line]])),
  ).toEqual([
    ['time-not-ascending', 7],
    ['not-a-number', 4],
    ['too-few-cells', 5],
  ]);
  expect(report).toMatchObject({ rows: 3, rowsRead: 5, rowsRejected: 1, cellsRejected: 1 });
});

test('a number too large for a double is no sample', async () => {
  const { source, report } = await importText('t,a,b\n0,1e400,1\n1,2,-1e999\n', telemetrySpec());
  expect(list(source?.channels[0]?.values)).toEqual([Number.NaN, 2]);
  expect(report?.channels.map((channel) => channel.notFinite)).toEqual([1, 1]);
});

test('an import is recognised the second time, and a damaged folder is made again', async () => {
  const disk = sourceOnDisk(PLAIN);
  const request = {
    parts: [{ name: 'telemetry.csv', file: disk.file }],
    spec: telemetrySpec(),
    zero: ZERO,
    samplesRoot: disk.samplesRoot,
  };
  const first = await importTelemetry(request);
  const second = await importTelemetry(request);
  expect([first.report?.recognised, second.report?.recognised]).toEqual([false, true]);
  expect(second.folder).toBe(first.folder);
  const other = await importTelemetry({
    ...request,
    spec: telemetrySpec({ channels: [channelSpec('a')] }),
  });
  expect(other.folder).not.toBe(first.folder);

  const data = path.join(disk.samplesRoot, first.folder ?? '', 'data.parquet');
  const bytes = readFileSync(data);
  bytes[bytes.length >> 1] = (bytes[bytes.length >> 1] ?? 0) ^ 1;
  writeFileSync(data, bytes);
  const damage = await verifyFolder(disk.samplesRoot, first.folder ?? '');
  expect(damage.map((issue) => issue.code)).toEqual(['sample-file-changed']);
  const third = await importTelemetry(request);
  expect(third.issues.map((issue) => issue.code)).toEqual(['samples-imported-again']);
  expect(await verifyFolder(disk.samplesRoot, first.folder ?? '')).toEqual([]);
  truncateSync(path.join(disk.samplesRoot, first.folder ?? '', 'manifest.json'), 20);
  expect(
    (await verifyFolder(disk.samplesRoot, first.folder ?? '')).map((issue) => issue.code),
  ).toEqual(['sample-manifest-unreadable']);
});

test('an abort stops an import and leaves nothing', async () => {
  const rows = Array.from({ length: 200_000 }, (_, row) => `${row},${row % 7},2`);
  const disk = sourceOnDisk(`t,a,b\n${rows.join('\n')}\n`);
  const stop = new AbortController();
  const running = importTelemetry({
    parts: [{ name: 'telemetry.csv', file: disk.file }],
    spec: telemetrySpec(),
    zero: ZERO,
    samplesRoot: disk.samplesRoot,
    signal: stop.signal,
    onProgress: ({ stage }) => {
      if (stage === 'data') stop.abort(new Error('enough'));
    },
  });
  await expect(running).rejects.toThrow('enough');
  expect(readdirSync(disk.samplesRoot)).toEqual([]);
});

test('what a dead import left is swept, and nothing else', async () => {
  const disk = sourceOnDisk(PLAIN);
  const { folder } = await importTelemetry({
    parts: [{ name: 'telemetry.csv', file: disk.file }],
    spec: telemetrySpec(),
    zero: ZERO,
    samplesRoot: disk.samplesRoot,
  });
  mkdirSync(path.join(disk.samplesRoot, '.tmp-1-abc', 'lod'), { recursive: true });
  expect(await sweepTemporary(disk.samplesRoot)).toEqual(['.tmp-1-abc']);
  expect(readdirSync(disk.samplesRoot)).toEqual([folder]);
  expect(await sweepTemporary(path.join(disk.folder, 'nowhere'))).toEqual([]);
});
