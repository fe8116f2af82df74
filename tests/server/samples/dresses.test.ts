/** One small table in every dress that the store reads: the same samples come out of each. */
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { readTelemetrySource } from '@/lib/server/samples/read-telemetry';
import { unpackHead } from '@/lib/server/samples/unpack-gzip';
import { channelSpec, sourceOnDisk, telemetrySpec, ZERO } from '../../support/telemetry-spec';

const PLAIN = 't,a,b\n0,1.5,10\n1,2.5,11\n2,3.5,12\n';
const LITTLE = Buffer.from(PLAIN, 'utf16le');

async function importDress(content: string | Uint8Array, change: Partial<TelemetrySpec> = {}) {
  const disk = sourceOnDisk(content);
  const spec = telemetrySpec(change);
  const { samplesRoot } = disk;
  const parts = [{ name: spec.file, file: disk.file }];
  const { folder, issues } = await importTelemetry({ parts, spec, zero: ZERO, samplesRoot });
  const source = folder === null ? null : await readTelemetrySource(samplesRoot, folder, spec);
  return { source, issues, codes: issues.map(({ code }) => code) };
}

const DRESSES: [string, string | Uint8Array, string[]][] = [
  ['packed with gzip', gzipSync(PLAIN), []],
  [
    'packed, in two members',
    Buffer.concat([gzipSync('t,a,b\n0,1.5,10\n'), gzipSync('1,2.5,11\n2,3.5,12\n')]),
    [],
  ],
  ['UTF-16LE without a mark', LITTLE, []],
  ['UTF-16BE without a mark', Buffer.from(LITTLE).swap16(), []],
  ['packed UTF-16', gzipSync(LITTLE), []],
  [
    'Latin-1 in an unused column',
    Buffer.from('t,a,b,é\n0,1.5,10,1\n1,2.5,11,1\n2,3.5,12,1\n', 'latin1'),
    ['encoding-assumed'],
  ],
  ['carriage returns alone', PLAIN.replaceAll('\n', '\r'), []],
  ['runs of spaces', '  t    a   b\n  0  1.5  10\n  1  2.5  11\n  2  3.5  12\n', []],
  ['decimal commas in spaces', 't a b\n0 1,5 10\n1 2,5 11\n2 3,5 12\n', []],
  ['a row of units', 't,a,b\ns,m,m\n0,1.5,10\n1,2.5,11\n2,3.5,12\n', []],
  ['remarks among the rows', 't,a,b\n0,1.5,10\n# a, remark\n1,2.5,11\n2,3.5,12\n# end\n', []],
  [
    'a remark with as many cells as a row',
    't,a,b\n0,1.5,10\n# a, long, remark\n1,2.5,11\n2,3.5,12\n',
    [],
  ],
  ['a quote in a remark above', '# 5" pipe\nt,a,b\n0,1.5,10\n1,2.5,11\n2,3.5,12\n', []],
  ['line ends in the header', '"t",a,"b\n"\n0,1.5,10\n1,2.5,11\n2,3.5,12\n', []],
  ['exponents with D', 't,a,b\n0,1.5D0,1.0D+01\n1,2.5d+00,11\n2,35.0D-1,12\n', []],
  ['true minus and odd blanks', 't,a,b\n0,1.5,\u00a010\n1,2.5\u202f,11\n2,35e\u22121,12\n', []],
  [
    'a separator at the end of each row',
    't,a,b\n0,1.5,10,\n1,2.5,11,\n2,3.5,12,\n',
    ['header-empty'],
  ],
  [
    'rows that end early',
    '# of five\nt,a,b,note,more\n0,1.5,10\n1,2.5,11,x\n2,3.5,12\n',
    ['rows-short'],
  ],
  [
    'two spare columns of one name',
    't,spare,a,b,spare\n0,7,1.5,10,8\n1,7,2.5,11,8\n2,7,3.5,12,8\n',
    ['header-duplicate'],
  ],
  [
    'JSON Lines',
    '{"t":0,"a":1.5,"b":10}\n{"t":1,"b":11,"a":2.5}\n\n{"t":2,"a":3.5,"b":12,"c":true}\n',
    [],
  ],
];

test.each(DRESSES)('the samples are the same: %s', async (_, content, warnings) => {
  const { source, codes } = await importDress(content);
  expect(codes).toEqual(warnings);
  expect(Array.from(source?.tS ?? [])).toEqual([0, 1, 2]);
  expect(source?.channels.map(({ values }) => Array.from(values))).toEqual([
    [1.5, 2.5, 3.5],
    [10, 11, 12],
  ]);
  expect(source).toMatchObject({ rowsRead: 3, rowsRejected: 0 });
});

test('a unit left out of the session file is taken from the row of units', async () => {
  const bare = channelSpec('a', { unit: null, siUnit: '', as: 'position.x' });
  const text = 't,a\ns,ft\n0,10\n1,20\n';
  const { source, codes } = await importDress(text, { channels: [bare] });
  expect(codes).toEqual([]);
  expect(Array.from(source?.channels[0]?.values ?? [])).toEqual([3.048, 6.096]);
  expect((await importDress('t,a\n0,10\n1,20\n', { channels: [bare] })).codes).toEqual([
    'unit-missing',
  ]);
  expect((await importDress('t,a\ns,kg\n0,10\n1,20\n', { channels: [bare] })).codes).toEqual([
    'unit-wrong',
  ]);
});

test('a row of units that contradicts the session file is a warning, or an error of dimension', async () => {
  const one = { channels: [channelSpec('a')] };
  expect((await importDress('t,a\ns,ft\n0,10\n1,20\n', one)).issues).toMatchObject([
    { code: 'unit-contradicts', severity: 'warning' },
  ]);
  expect((await importDress('t,a\ns,kg\n0,10\n1,20\n', one)).issues).toMatchObject([
    { code: 'unit-contradicts', severity: 'error' },
  ]);
});

test('a number that looks like no sample is proposed, and left out only where it is stated', async () => {
  const text = 't,a,b\n0,1,10\n1,-9999,11\n2,3,12\n3,-9999.00,off\n';
  const found = await importDress(text);
  expect(Array.from(found.source?.channels[0]?.values ?? [])).toEqual([1, -9999, 3, -9999]);
  const hint = found.issues.find(({ code }) => code === 'sentinel-likely');
  expect(hint?.message).toContain('column "a" holds -9999 in 2 rows');
  const stated = await importDress(text, { missing: [-9999, 'off'] });
  expect(stated.codes).toEqual([]);
  expect(Array.from(stated.source?.channels[0]?.values ?? [])).toEqual([
    1,
    Number.NaN,
    3,
    Number.NaN,
  ]);
});

test('spaces round a word for no sample make no reject of it', async () => {
  const { source, codes } = await importDress('t,a,b\n0, -,10\n1,2, n/a \n');
  expect(codes).toEqual([]);
  expect(Array.from(source?.channels[0]?.values ?? [])).toEqual([Number.NaN, 2]);
});

test('a mapped name that stands for two columns is one clear error', async () => {
  const { source, issues } = await importDress('t,a,b,a\n0,1,2,3\n1,2,3,4\n');
  expect(source).toBeNull();
  expect(issues.filter(({ severity }) => severity === 'error')).toMatchObject([
    { code: 'column-ambiguous', line: 1 },
  ]);
});

test('a table may begin with the mark of Parquet; a Parquet file must end with it too', async () => {
  const channels = [channelSpec('PAR1'), channelSpec('b')];
  const text = 'PAR1,t,b\n1.5,0,10\n2.5,1,11\n';
  const { source } = await importDress(text, { channels });
  expect(Array.from(source?.channels[0]?.values ?? [])).toEqual([1.5, 2.5]);
  const messages = [
    ['PAR1\u0015\u0004 and no more', 'does not end with PAR1'],
    ['PAR1\u0015\u0004\u00ff\u00ff\u00ff\u007fPAR1', 'footer cannot be: 2147483647 bytes of 14'],
  ] as const;
  for (const [file, said] of messages) {
    const { issues } = await importDress(Buffer.from(file, 'latin1'));
    expect(issues).toMatchObject([
      { code: 'parquet-unreadable', message: expect.stringContaining(said) },
    ]);
  }
});

test('a damaged archive, one packed twice and one that grows beyond its bound are refused', async () => {
  const whole = gzipSync(PLAIN);
  expect((await importDress(whole.subarray(0, whole.length - 9))).codes).toEqual(['gzip-broken']);
  expect((await importDress(gzipSync(whole))).codes).toEqual(['gzip-twice']);
  const bomb = gzipSync(Buffer.alloc(160 * 1024 * 1024));
  expect((await importDress(bomb)).codes).toEqual(['gzip-too-large']);
  // The look at the first bytes is bounded too: 160 KiB of this archive stand for 160 MiB.
  expect(unpackHead(bomb).length).toBeLessThanOrEqual(4 * 1024 * 1024);
  expect(unpackHead(bomb).length).toBeGreaterThan(0);
});

const TWELVE = Array.from({ length: 12 }, (_, at) => `${at},${at / 2},1\n`);

test.each([
  ['0.1,1,1\n0.3,1,1\n', '0.2,1,1\n0.4,1,1\n', 'starts 0.1 s before one.csv ends'],
  ['0,1,1\n1,1,1\n', '1,1,1\n2,1,1\n', 'starts with the stamp that one.csv ends with'],
])('how far files overlap is said in whole digits', async (one, two, words) => {
  const disk = sourceOnDisk(`t,a,b\n${one}`, 'one.csv');
  const other = path.join(disk.folder, 'two.csv');
  writeFileSync(other, `t,a,b\n${two}`);
  const parts = [disk.file, other].map((file) => ({ name: path.basename(file), file }));
  const spec = telemetrySpec({ file: '*.csv', files: ['*.csv'] });
  const { issues } = await importTelemetry({ ...disk, parts, spec, zero: ZERO });
  expect(issues.find(({ code }) => code === 'parts-overlap')?.message).toContain(words);
});

test('rows from the latest to the earliest are read the other way round, parts of them too', async () => {
  const backwards = [...TWELVE].reverse();
  const text = `t,a,b\n${backwards.join('')}`;
  const { source, codes } = await importDress(text);
  expect(codes).toEqual(['rows-backwards']);
  expect(Array.from(source?.tS ?? [])).toEqual([...TWELVE.keys()]);
  expect(source?.channels[0]?.values[11]).toBe(5.5);
  // With a cell that does not read, and a row that repeats its stamp.
  const odd = await importDress(text.replace('3,1.5,1\n', '3,bad,1\n3,9,1\n'));
  expect(Array.from(odd.source?.tS ?? [])).toEqual([...TWELVE.keys()]);
  expect(odd.source?.stampFaults).toMatchObject([{ kind: 'duplicate', line: 10 }]);

  const disk = sourceOnDisk(`t,a,b\n${backwards.slice(8).join('')}`, 'one.csv');
  const two = path.join(disk.folder, 'two.csv');
  writeFileSync(two, `t,a,b\n${backwards.slice(0, 8).join('')}`);
  const parts = [
    { name: 'one.csv', file: disk.file },
    { name: 'two.csv', file: two },
  ];
  const { samplesRoot } = disk;
  const joined = await importTelemetry({ parts, spec: telemetrySpec(), zero: ZERO, samplesRoot });
  expect(joined.issues.map(({ code }) => code)).toEqual(['rows-backwards']);
  expect(joined.report).toMatchObject({ rows: 12, rowsOutOfOrder: 0 });
});

test('rows in no order of time are an error, rows that repeat stamps are not', async () => {
  const order = [3, 0, 7, 1, 9, 2, 11, 4, 10, 5, 8, 6, 3, 1, 2];
  const mixed = order.map((at) => TWELVE[at]).join('');
  const { source, issues } = await importDress(`t,a,b\n${mixed}`);
  expect(source).toBeNull();
  expect(issues).toMatchObject([{ code: 'rows-not-in-order', severity: 'error', line: 3 }]);
  const coarse = await importDress(`t,a,b\n${'0,1,1\n'.repeat(9)}1,1,1\n`);
  expect(coarse.codes).toEqual(['time-not-ascending']);
});

test('a message in XML may be one long line without an end, under its declaration', async () => {
  const observations = [0, 1, 2].map(
    (at) =>
      `<observation><EPOCH>2025-03-04T10:00:0${at}</EPOCH><RANGE>0.00${at + 1}</RANGE></observation>`,
  );
  const metadata =
    '<TIME_SYSTEM>UTC</TIME_SYSTEM><PARTICIPANT_1>A</PARTICIPANT_1><RANGE_UNITS>km</RANGE_UNITS>';
  const xml = `<?xml version="1.0"?>\n<tdm id="CCSDS_TDM_VERS" version="2.0"><header/><body><segment><metadata>${metadata}</metadata><data>${observations.join('')}</data></segment></body></tdm>`;
  const channels = [channelSpec('RANGE', { unit: 'km', siUnit: 'm', toSi: 1000, as: 'range' })];
  const { source, codes } = await importDress(xml, { channels });
  expect(codes).toEqual([]);
  expect(Array.from(source?.channels[0]?.values ?? [])).toEqual([1, 2, 3]);
});

test.each([
  ['with a mark', '\ufeff'],
  ['without one', ''],
])('JSON Lines in UTF-16 %s are read', async (_, mark) => {
  const rows = ['{"t":0,"a":1.5,"b":10}', '{"t":1,"a":2.5,"b":11}', ''];
  const { source } = await importDress(Buffer.from(mark + rows.join('\n'), 'utf16le'));
  expect(Array.from(source?.tS ?? [])).toEqual([0, 1]);
});

test('JSON of which no line is an object is refused as such', async () => {
  const { codes } = await importDress(`{"t":1,"x":${'['.repeat(1000)}\n`.repeat(3));
  expect(codes).toEqual(['json-no-rows']);
});
