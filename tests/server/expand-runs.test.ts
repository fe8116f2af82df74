import { mkdtemp, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { strToU8, zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { expandRuns } from '@/lib/server/expand-runs';
import { withConnection } from '@/lib/server/samples/engine';
import { sqlText } from '@/lib/server/samples/sql-text';
import { channelSpec, telemetrySpec } from '../support/telemetry-spec';

const spec = telemetrySpec({ file: 'runs', channels: [channelSpec('x'), channelSpec('y')] });

async function place() {
  const folder = await mkdtemp(path.join(tmpdir(), 'wakeline-expand-'));
  return (name: string) => path.join(folder, name);
}

test('one Parquet file with a column of runs is a text a run, rows in the order of the file', async () => {
  const at = await place();
  const file = at('runs.parquet');
  await withConnection(at('.'), (connection) =>
    connection.run(
      `COPY (SELECT * FROM (VALUES ('b, 2', 0.0, 1.5, 7, 'w'), ('a', 0.0, 0.1, 8, 'w'), ('b, 2', 0.5, 1.25, NULL, 'w'), ('a', 0.5, 0.3, 9, 'w'))
         v(which, t, x, y, words)) TO ${sqlText(file)} (FORMAT parquet)`,
    ),
  );
  const request = { spec, runColumn: 'which', folder: at('.'), signal: undefined };
  const { parts, containers, issues } = await expandRuns([{ name: 'runs.parquet', file }], request);
  expect(issues).toEqual([]);
  expect(containers.map(({ name }) => name)).toEqual(['runs.parquet']);
  expect(parts.map(({ name }) => name)).toEqual(['runs.parquet, run a', 'runs.parquet, run b  2']);
  expect(await readFile(parts[0]?.file ?? '', 'utf8')).toBe('t,x,y\n0.0,0.10,8\n0.5,0.30,9\n');
  const wrong = await expandRuns([{ name: 'runs.parquet', file }], {
    ...request,
    runColumn: 'no',
    folder: at('x'),
  });
  expect(wrong.issues[0]?.message).toContain('has no column "no"');
});

test('a zip of runs is its files, by number; a plain file stays as it is', async () => {
  const at = await place();
  await writeFile(
    at('runs.zip'),
    zipSync({ 'run-10.csv': strToU8('t,x\n0,1\n'), 'run-2.csv': strToU8('t,x\n0,2\n') }),
  );
  await writeFile(at('run-1.csv'), 't,x\n0,3\n');
  const found = ['runs.zip', 'run-1.csv'].map((name) => ({ name, file: at(name) }));
  const request = { spec, runColumn: null, folder: at('out'), signal: undefined };
  const { parts } = await expandRuns(found, request);
  expect(parts.map(({ name }) => name)).toEqual([
    'runs.zip/run-2.csv',
    'runs.zip/run-10.csv',
    'run-1.csv',
  ]);
});
