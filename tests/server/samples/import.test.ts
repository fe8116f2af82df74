import { mkdirSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { readTelemetrySource } from '@/lib/server/samples/read-telemetry';
import { sweepTemporary } from '@/lib/server/samples/sweep-temporary';
import { verifyFolder } from '@/lib/server/samples/verify-folder';
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
    parts: [{ name: 'telemetry.csv', file: disk.file }],
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

const isoTime = { columns: ['t'], code: 'iso8601', scale: 'UTC', from: ZERO } as const;

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

test('stamps that step back are kept out of a long file and named in one run', async () => {
  const rows = Array.from({ length: 5000 }, (_, row) => `${row < 4000 ? row : row - 500},1,2`);
  const { source, report } = await importText(`t,a,b\n${rows.join('\n')}\n`, telemetrySpec());
  expect(source?.tS.length).toBe(4499 + 1);
  expect(report).toMatchObject({ rows: 4500, rowsRead: 5000, rowsOutOfOrder: 500 });
  expect(
    report?.stampFaults.map(({ kind, startS, endS, line }) => [kind, startS, endS, line]),
  ).toEqual([
    ['out_of_order', 3500, 3999, 4002],
    ['duplicate', 3999, 3999, 4501],
  ]);
});

test('times of day count on over midnight, and this is said; an unclear step is refused', async () => {
  const time = { columns: ['t'], code: 'elapsed-dhms', scale: 'UTC', from: ZERO } as const;
  const spec = telemetrySpec({ time });
  const text = 't,a,b\n23:59:58,1,1\n23:59:59,2,1\n00:00:00,3,1\n00:00:01,4,1\n';
  const { issues, report } = await importText(text, spec);
  expect(report).toMatchObject({ rows: 4, rowsOutOfOrder: 0, toS: 86_401 });
  expect(issues).toMatchObject([{ code: 'carried-over-midnight', severity: 'warning', line: 4 }]);
  const long = 'name,t,value\na,23:59:58,1\na,00:00:01,2\nb,23:59:59,3\nb,00:00:02,4\n';
  const like = { time, layout: 'long', nameColumn: 'name', valueColumn: 'value' } as const;
  const { report: tall } = await importText(long, telemetrySpec(like));
  expect(tall).toMatchObject({ rows: 4, rowsOutOfOrder: 0, fromS: 86_398, toS: 86_402 });
  const open = await importText('t,a,b\n15:00:00,1,1\n04:00:00,2,1\n', spec);
  expect(open.issues).toMatchObject([{ code: 'day-not-said', severity: 'error', line: 3 }]);
});

test('days of a spreadsheet taken for seconds are said, and so are signs between thousands', async () => {
  const days = ['t,a,b', '47972.416667,1,2', '47972.416673,1,3', '47972.416678,1,4'];
  const { issues } = await importText(days.join('\n'), telemetrySpec());
  expect(issues).toMatchObject([{ code: 'spreadsheet-days', severity: 'warning' }]);
  const grouped = 't,a,b\n0,"1,200.5",1\n1,"1,201.5",2\n2,"1,202.5",3\n';
  const refused = await importText(grouped, telemetrySpec());
  expect(refused.issues.map(({ message }) => message)).toEqual([
    expect.stringMatching(/3 of 3 cells .*"1,200\.5"; write the numbers without signs between/),
  ]);
});

test('dates that end in the year are read in the order that all of them allow', async () => {
  const zero = instantOf('2031-04-05T09:00:00Z');
  const rows = ['t,a,b', '05/04/2031 09:00:00,1,2', '17/04/2031 9:00:00 PM,3,4'];
  const { issues, report } = await importText(
    rows.join('\n'),
    telemetrySpec({ time: isoTime }),
    zero,
  );
  // Twelve days and twelve hours.
  expect(report).toMatchObject({ rows: 2, fromS: 0, toS: 12.5 * 86_400 });
  expect(issues).toMatchObject([{ code: 'date-order-found', severity: 'warning' }]);
  const open = await importText(
    `${rows.slice(0, 2).join('\n')}\n`,
    telemetrySpec({ time: isoTime }),
    zero,
  );
  expect(open.issues).toMatchObject([{ code: 'date-order-open', severity: 'error' }]);
});

/**
 * Source: UTC had a second 23:59:60 on 31 December 2016 (IERS Bulletin C 52), so 00:00:00.25 lies
 * 2.25 s after 23:59:59.0.
 */
test('a leap second counts as one second, to the nanosecond', async () => {
  const zero = instantOf('2016-12-31T23:59:59Z');
  const stamps = [
    '2016-12-31T23:59:59.500000001Z',
    '2016-12-31T23:59:60.5Z',
    '2017-01-01T00:00:00.250000000Z',
  ];
  const text = `t,a,b\n${stamps.map((stamp) => `${stamp},1,2`).join('\n')}\n`;
  const { source, issues } = await importText(text, telemetrySpec({ time: isoTime }), zero);
  expect(issues).toEqual([]);
  expect(list(source?.tS)).toEqual([0.500000001, 1.5, 2.25]);
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

test('stamps that jump forward are named with line and size, in order or not', async () => {
  const at = [0, 1, 2, 3, 2.5, 4, 16.5, 17.5, 18.5, 19.5];
  const text = `t,a,b\n${at.map((t) => `${t},1,2`).join('\n')}\n`;
  const { report, issues } = await importText(text, telemetrySpec());
  expect(report?.stampFaults).toEqual([
    { kind: 'out_of_order', startS: 2.5, endS: 3, line: 6 },
    { kind: 'jump', startS: 4, endS: 16.5, line: 8 },
  ]);
  expect(issues.map(({ code, line, message }) => [code, line, message.split(': ')[1]])).toEqual([
    ['time-not-ascending', 6, 'line 6 steps back 0.5 s'],
    ['time-jumps', 8, 'line 8 jumps 12.5 s; nothing is evaluated inside'],
  ]);
});
