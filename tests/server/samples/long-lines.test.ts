import { DuckDBInstance } from '@duckdb/node-api';
import { expect, test } from 'vitest';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { isCutCharacter } from '@/lib/server/samples/plain-copy';
import { readTelemetrySource } from '@/lib/server/samples/read-telemetry';
import { sourceOnDisk, telemetrySpec, ZERO } from '../../support/telemetry-spec';

async function importText(content: string | Uint8Array, spec: TelemetrySpec) {
  const { file, samplesRoot } = sourceOnDisk(content);
  const parts = [{ name: 'telemetry.csv', file }];
  const { folder, report, issues } = await importTelemetry({
    parts,
    spec,
    zero: ZERO,
    samplesRoot,
  });
  const source = folder === null ? null : await readTelemetrySource(samplesRoot, folder, spec);
  return { tS: Array.from(source?.tS ?? []), report, issues };
}

const ROWS = 't,a,b\n0,1,2\n1,1,2\n';

test('a line of 300,000 cells costs its own row, and no minutes', async () => {
  const text = `${ROWS}${'5,'.repeat(150_000)}5\n3,1,2\n`;
  const { tS, report, issues } = await importText(text, telemetrySpec());
  expect(tS).toEqual([0, 1, 3]);
  expect(report).toMatchObject({ rowsRead: 4, rowsRejected: 1 });
  expect(issues.map(({ code, line }) => [code, line ?? null])).toContainEqual([
    'too-many-cells',
    4,
  ]);
}, 120_000);

test('so does one of a table whose cells stand apart by spaces', async () => {
  const rows = ['t a b', '0 1 2', '1 1 2', '5 '.repeat(150_000), '3 1 2', ''];
  const { tS, report } = await importText(rows.join('\n'), telemetrySpec());
  expect(tS).toEqual([0, 1, 3]);
  expect(report).toMatchObject({ rowsRead: 4, rowsRejected: 1 });
}, 120_000);

test('a row of more than a megabyte is none, however its characters are cut', async () => {
  const huge = '\u752e'.repeat(1_500_000);
  const text = Buffer.from(`\ufeff${ROWS}2,1${huge},2\n3,1,2\n`, 'utf16le');
  const { tS, report } = await importText(text, telemetrySpec());
  expect(tS).toEqual([0, 1, 3]);
  expect(report).toMatchObject({ rowsRead: 4, rowsRejected: 1 });
}, 120_000);

test('a long row with as many cells as the header is read', async () => {
  const text = `t,a,b,note\n0,1,2,${'w'.repeat(100_000)}\n1,1,2,v\n`;
  const { tS, report } = await importText(text, telemetrySpec());
  expect(tS).toEqual([0, 1]);
  expect(report).toMatchObject({ rowsRead: 2, rowsRejected: 0 });
});

// A line end inside quotes ends no row: RFC 4180 section 2, rule 6.
test('a long line between two quoted cells of several lines is no row of its own', async () => {
  const odd = `1,1,2,"a\n${'w'.repeat(70_000)}","b\nc"`;
  const text = `t,a,b,note,more\n0,1,2,x,y\n${odd}\n2,bad,2,x,y\n`;
  const { tS, report, issues } = await importText(text, telemetrySpec());
  expect(tS).toEqual([0, 1, 2]);
  expect(report).toMatchObject({ rowsRead: 3, rowsRejected: 0 });
  expect(issues).toContainEqual(expect.objectContaining({ code: 'not-a-number', line: 6 }));
});

test('a row of several lines whose cells end early is filled up like the others', async () => {
  const text = 't,a,b,note,more\n0,1,2,x\n1,1,2,"two\nlines"\n2,1,2,x\n';
  const { tS, report } = await importText(text, telemetrySpec());
  expect(tS).toEqual([0, 1, 2]);
  expect(report).toMatchObject({ rowsRead: 3, rowsRejected: 0 });
});

// What the reader of rows keeps of a refused one ends at 10,000 bytes, in a character of three for two
// of these three places, in one of two for one.
test.each([
  ['utf-8', 0, '\u752e'],
  ['utf-8', 1, '\u752e'],
  ['utf-8', 2, '\u752e'],
  ['utf-8', 0, '\u00e9'],
  ['utf-8', 1, '\u00e9'],
  ['utf-16le', 0, '\u752e'],
  ['utf-16le', 1, '\u752e'],
  ['latin1', 0, '\u00e9'],
  ['latin1', 1, '\u00e9'],
] as const)(
  'a refused row of 20 kB costs itself alone: %s, %i before, %s',
  async (code, more, char) => {
    const cells = [
      'x'.repeat(more) + char.repeat(9000),
      `"${char.repeat(20)}\n${char.repeat(8000)}"`,
    ];
    const rows = cells.map((cell, index) => `${cell},${index},2`);
    const mark = code === 'utf-16le' ? '\ufeff' : '';
    const text = Buffer.from(`${mark}${ROWS}${rows.join('\n')}\n3,1,2\n`, code);
    const { tS, report } = await importText(text, telemetrySpec());
    expect(tS).toEqual([0, 1, 3]);
    expect(report).toMatchObject({ rowsRead: 5, rowsRejected: 2 });
  },
);

test('a quote that opens in a line of megabytes and is never closed is told, and throws nothing', async () => {
  const huge = '\u752e'.repeat(1_500_000);
  const text = Buffer.from(`\ufeff${ROWS}2,1,"${huge},2\n3,1,2\n`, 'utf16le');
  const { report, issues } = await importText(text, telemetrySpec());
  const told = issues.some(({ code }) => code === 'quote-not-closed');
  expect(told || report?.rowsRejected === 1).toBe(true);
}, 120_000);

// The reader's own words for it, which may change with its version.
test('what the reader throws over a character cut in two is known as that', async () => {
  const { file } = sourceOnDisk(`${'\u752e'.repeat(5000)},1\n2,3\n`);
  const options = `header = false, store_rejects = true, columns = {a: 'DOUBLE', b: 'DOUBLE'}`;
  const instance = await DuckDBInstance.create(':memory:', { threads: '1' });
  const connection = await instance.connect();
  const reading = connection.run(`CREATE TABLE t AS FROM read_csv('${file}', ${options})`);
  const thrown: unknown = await reading.catch((error: unknown) => error);
  connection.closeSync();
  instance.closeSync();
  expect(isCutCharacter(thrown)).toBe(true);
  expect(isCutCharacter(new Error('Invalid Input Error: of another kind'))).toBe(false);
});

test('rows below a quote that nothing closes are told, with a line end at the end of the file', async () => {
  const rows = ['t a b', '0 1 2', '1 1 2', '2 "1 2', '3 1 2', '4 1 2', ''];
  const { tS, report, issues } = await importText(rows.join('\n'), telemetrySpec());
  expect(tS).toEqual([0, 1]);
  expect(report).toMatchObject({ rowsRead: 5, rowsRejected: 3 });
  expect(issues.map(({ line }) => line)).toEqual(expect.arrayContaining([4, 5, 6]));
});
