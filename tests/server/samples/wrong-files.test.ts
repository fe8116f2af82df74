import { expect, test } from 'vitest';
import { hasErrors } from '@/lib/core/result';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import type { TelemetrySpec } from '@/lib/core/session/session-file';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { readTelemetrySource } from '@/lib/server/samples/read-telemetry';
import { channelSpec, sourceOnDisk, telemetrySpec, ZERO } from '../../support/telemetry-spec';

async function importText(content: string | Uint8Array, spec: TelemetrySpec = telemetrySpec()) {
  const disk = sourceOnDisk(content);
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

const errorsOf = (issues: Awaited<ReturnType<typeof importText>>['issues']) =>
  issues
    .filter((issue) => issue.severity === 'error')
    .map(({ code, line, message }) => ({ code, line, message }));

const rows = (count: number) => Array.from({ length: count }, (_, index) => `${index},1,2`);

test('milliseconds stated as seconds are far from zero, not the end of the import', async () => {
  const spec = telemetrySpec({
    time: { columns: ['t'], code: 'unix-seconds', scale: 'UTC', from: ZERO },
  });
  const { report, issues } = await importText(
    't,a,b\n1741082400000,1,2\n1741082401000,1,2\n',
    spec,
  );
  expect(hasErrors(issues)).toBe(false);
  expect(report?.fromS).toBeGreaterThan(1e12);
});

test('columns may be called what the engine calls columns of its own', async () => {
  const names = ['file_row_number', 'filename', '__proto__', '"; drop table x; --'];
  const spec = telemetrySpec({ channels: names.map((name) => channelSpec(name)) });
  const header = ['t', ...names.map((name) => `"${name.replaceAll('"', '""')}"`)].join(',');
  const { source, issues } = await importText(`${header}\n0,1,2,3,4\n1,5,6,7,8\n`, spec);
  expect(errorsOf(issues)).toEqual([]);
  expect(source?.channels.map(({ name, values }) => [name, values[1]])).toEqual([
    ['file_row_number', 5],
    ['filename', 6],
    ['__proto__', 7],
    ['"; drop table x; --', 8],
  ]);
});

test('a quote that is not closed and swallows the file is an error at its line', async () => {
  const text = ['t,a,b', ...rows(20), '20,"1,2', ...rows(400).slice(21)].join('\n');
  const { issues } = await importText(text);
  expect(errorsOf(issues)).toEqual([
    {
      code: 'quote-not-closed',
      line: 22,
      message: 'a quote is not closed here, and 379 of 400 lines stand inside it',
    },
  ]);
});

// Which quotes open a cell, here and below: RFC 4180 section 2, rules 5 to 7.
test.each([
  [
    'in a name of the header',
    't,"a,b\ns,m,m\n',
    1,
    /opened in the header and never closed: t, a, b$/,
  ],
  ['in the first row', 't,a,b\n0,"1,2\n', 2, /^a quote is not closed here, and 39 of 40 lines/],
])('a quote never closed %s is one error, with its line', async (_, start, line, message) => {
  const { issues } = await importText(`${start}${rows(40).slice(1).join('\n')}\n`);
  expect(errorsOf(issues)).toEqual([
    { code: 'quote-not-closed', line, message: expect.stringMatching(message) },
  ]);
});

test('a sign behind a closing quote costs its row, also among notes of two lines', async () => {
  const notes = rows(20).map((row, at) => `${row},${at === 7 ? '"x" y' : '"two\nlines"'}`);
  const { report, issues } = await importText(`t,a,b,note\n${notes.join('\n')}\n`);
  expect(errorsOf(issues)).toEqual([]);
  expect(report).toMatchObject({ rowsRead: 20, rowsRejected: 1 });
  expect(issues).toContainEqual(expect.objectContaining({ code: 'row-unreadable', line: 16 }));
});

test('a quote inside a bare cell is an ordinary sign: rows after it keep their lines', async () => {
  const { issues } = await importText('t,a,b,note\n0,1,2,5" pipe\n1,1,2,\n2,bad,2,\n');
  expect(issues).toContainEqual(expect.objectContaining({ code: 'not-a-number', line: 4 }));
});

test('a header of another width than the rows says so', async () => {
  const wide = await importText(`t,a,b\n${rows(9).join(',7\n')},7\n`);
  expect(errorsOf(wide.issues)).toEqual([
    {
      code: 'header-width',
      line: 1,
      message: 'the header has 3 names, the rows have 4 cells',
    },
  ]);
  const comma = await importText('t,a,b\n0,5,1,5,2,5\n1,5,1,5,2,5\n2,5,1,5,2,5\n');
  expect(errorsOf(comma.issues)[0]?.message).toContain('decimal commas need another separator');
});

test('more columns than can be held, or a first line without an end, are refused', async () => {
  const names = Array.from({ length: 2001 }, (_, index) => `c${index}`).join(',');
  const many = await importText(`t,a,b,${names}\n0,1,2${',1'.repeat(2001)}\n`);
  expect(errorsOf(many.issues).map(({ code }) => code)).toEqual(['too-many-columns']);
  const long = await importText(`t,a,b,${'x'.repeat(300_000)}\n0,1,2,3\n`);
  expect(errorsOf(long.issues).map(({ code }) => code)).toEqual(['header-too-long']);
});

test.each([
  ['PK\u0003\u0004rest', 'a zip archive; unpack it and put the files in the folder'],
  ['%PDF-1.7\n', 'a PDF; ask for the numbers as CSV'],
  ['\u0089PNG\r\n\u001a\n', 'a PNG picture; ask for the numbers as CSV'],
  [
    `PK\u0003\u0004${'\u0000'.repeat(26)}xl/workbook.xml`,
    'an Office workbook or document; export the table as CSV',
  ],
  ['\u0089HDF\r\n\u001a\n', 'an HDF5 file; export its tables as CSV or Parquet'],
  ['MATLAB 5.0 MAT-file, Platform', 'a MAT file; write its tables as CSV or Parquet'],
  ['7z\u00bc\u00af\u0027\u001c', 'a 7z archive; unpack it and put the files in the folder'],
])(
  'a file with another content than its name says is called what it is (%#)',
  async (text, what) => {
    const { issues } = await importText(Buffer.from(text, 'latin1'));
    expect(errorsOf(issues)).toEqual([
      { code: 'not-text', line: undefined, message: `must be delimited text, found ${what}` },
    ]);
  },
);

test('a channel without a single sample is a warning', async () => {
  const { issues } = await importText('t,a,b\n0,1,\n1,2,\n');
  expect(issues.map(({ code, severity, message }) => [code, severity, message])).toEqual([
    ['channel-empty', 'warning', 'channels without a single sample: b'],
  ]);
});

test.each(['latin-1', 'utf-16', 'UTF-16BE', 'windows-1252'])(
  '%s is read where it is stated',
  async (encoding) => {
    const text = `title: T
kind: flight
zero: 2025-03-04T10:00:00Z
sources:
  - { file: telemetry.csv, type: telemetry, encoding: ${encoding}, time: { column: t, code: elapsed-seconds }, channels: { Größe: { as: range, unit: m } } }
`;
    const spec = readSessionFile(text, 'session.yaml').value?.sources[0];
    if (spec?.type !== 'telemetry') throw new Error('no telemetry');
    const table = 't,Größe\n0,5\n1,6\n';
    const little = Buffer.from(`\uFEFF${table}`, 'utf16le');
    const content = encoding.toLowerCase().startsWith('utf-16')
      ? encoding === 'utf-16'
        ? little
        : Buffer.from(little).swap16()
      : Buffer.from(table, 'latin1');
    const { source, issues } = await importText(content, spec);
    expect(errorsOf(issues)).toEqual([]);
    expect(Array.from(source?.channels[0]?.values ?? [])).toEqual([5, 6]);
  },
);
