import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { GET } from '@/app/sessions/[sessionId]/sources/rejects/route';
import { readEventsCsv } from '@/lib/core/intake/formats/events-csv';
import { samplesRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import { toJson } from '@/lib/server/rows';
import { samplePath } from '@/lib/server/samples/columns-of';
import { importTelemetry } from '@/lib/server/samples/import-telemetry';
import { rejectIssues } from '@/lib/server/samples/reject-file';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';
import { sourceOnDisk, telemetrySpec, ZERO } from '../support/telemetry-spec';

freshDataDir();

const ID = 'session-1';

type Kept = Readonly<{ file: string; type: 'telemetry' | 'events'; folder: string }>;

async function addSource({ file, type, folder }: Kept, report: unknown): Promise<void> {
  const { file: _file, ...telemetry } = telemetrySpec();
  const declared = type === 'telemetry' ? { ...telemetry, file } : { type, file };
  await db().sourceVersion.create({
    data: {
      id: file,
      sessionId: ID,
      file,
      type,
      number: 1,
      sha256: 'a',
      bytes: 1n,
      folder,
      declared: toJson(declared),
      report: toJson(report),
    },
  });
}

async function linesOf(file: string): Promise<readonly string[]> {
  const request = new Request(`http://127.0.0.1/x?file=${encodeURIComponent(file)}`);
  const response = await GET(request, { params: Promise.resolve({ sessionId: ID }) });
  expect(response.headers.get('content-type')).toBe('text/csv; charset=utf-8');
  return (await response.text()).trimEnd().split('\r\n');
}

test('what was set aside of a table is a file of lines, cells and reasons without a formula', async () => {
  await addSession(ID);
  const { file } = sourceOnDisk('t,a,b\n0,1,2\n1,=1+1,3\n2,1\n1.5,1,1\n0.5,9,9\n3,1,2\n');
  const parts = [{ name: 'telemetry.csv', file }];
  const spec = telemetrySpec();
  const made = await importTelemetry({ parts, spec, zero: ZERO, samplesRoot: samplesRoot() });
  await addSource(
    { file: 'telemetry.csv', type: 'telemetry', folder: made.folder ?? '' },
    made.report,
  );
  expect(await linesOf('telemetry.csv')).toEqual([
    'line,column,cell,reason',
    "3,a,'=1+1,is not a number",
    '4,,"2,1",has fewer cells than the header',
    '6,,,"from this row on, stamps lie up to 1 s before the latest one; the rows are left out of the series"',
  ]);
});

test('what is beyond the list is counted at its end, and in the report', async () => {
  await addSession(ID);
  const { file } = sourceOnDisk('t,a,b\n0,1,2\n1,x,3\n');
  const parts = [{ name: 'telemetry.csv', file }];
  const spec = telemetrySpec();
  const made = await importTelemetry({ parts, spec, zero: ZERO, samplesRoot: samplesRoot() });
  const folder = made.folder ?? '';
  const manifest = path.join(samplePath(samplesRoot(), folder), 'manifest.json');
  const text = readFileSync(manifest, 'utf8');
  // As of a source with 100,000 bad cells and more, which takes long to make.
  writeFileSync(manifest, text.replace(/"cellsRejected": ?1\b/, '"cellsRejected":43'));
  await addSource({ file: 'telemetry.csv', type: 'telemetry', folder }, made.report);
  expect((await linesOf('telemetry.csv')).slice(1)).toEqual([
    '3,a,x,is not a number',
    ',,,42 more rows and cells were set aside and are not listed; the first 1 are',
  ]);
  const reject = { line: 1, column: 'a', text: 'x', reason: 'not-a-number' } as const;
  const issues = rejectIssues(
    { file: 'a.csv', time: { code: 'iso8601' } },
    Array(30).fill(reject),
    100_030,
  );
  expect(issues.at(-1)?.message).toBe(
    '100010 more rows or cells could not be used; the list to download on Sources has the first 30 with their lines; 100000 are not listed one by one',
  );

  const log = readEventsCsv({
    text: `t,text\n0,hello\n${'x,y\n'.repeat(5_003)}`,
    fileName: 'log.csv',
    time: { columns: ['t'], code: 'elapsed-seconds', scale: 'UTC', from: ZERO },
    zero: ZERO,
  });
  expect(log.issues.at(-1)?.message).toContain('the first 5000 (3 are not) in the list');
  await addSource({ file: 'log.csv', type: 'events', folder: '' }, log.value);
  expect((await linesOf('log.csv')).at(-1)).toBe(
    ',,,3 more rows and cells were set aside and are not listed; the first 5000 are',
  );
});

test('cells of a source of several files name their file', async () => {
  await addSession(ID);
  const first = sourceOnDisk('t,a,b\n0,1,2\n1,x,3\n');
  const second = sourceOnDisk('t,a,b\n2,1,2\n2,1,2\n3,2,y\n');
  const parts = [
    { name: 'one.csv', file: first.file },
    { name: 'two.csv', file: second.file },
  ];
  const spec = telemetrySpec();
  const made = await importTelemetry({ parts, spec, zero: ZERO, samplesRoot: samplesRoot() });
  await addSource({ file: 'one.csv', type: 'telemetry', folder: made.folder ?? '' }, made.report);
  expect((await linesOf('one.csv')).slice(1)).toEqual([
    'one.csv,3,a,x,is not a number',
    expect.stringMatching(/^two.csv,3,,,"from this row on, rows repeat the stamp/),
    'two.csv,4,b,y,is not a number',
  ]);
});

test('refused rows of a log are listed with what stood there', async () => {
  await addSession(ID);
  const time = {
    columns: ['t'],
    code: 'elapsed-seconds',
    scale: 'UTC',
    from: ZERO,
  } as const;
  const text = 't,text\n0,hello\nlater,=2+2\n';
  const log = readEventsCsv({ text, fileName: 'log.csv', time, zero: ZERO });
  await addSource({ file: 'log.csv', type: 'events', folder: '' }, log.value);
  expect((await linesOf('log.csv')).slice(1)).toEqual([
    '3,,later,"""later"" is no time stamp of the code stated"',
  ]);
  const request = new Request('http://127.0.0.1/x?file=other.csv');
  const gone = await GET(request, { params: Promise.resolve({ sessionId: ID }) });
  expect(gone.status).toBe(404);
});
