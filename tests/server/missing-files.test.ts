import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { Issue } from '@/lib/core/result';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import { explainMissing } from '@/lib/server/missing-files';
import { unusedFiles, unusedNote } from '@/lib/server/unused-files';

const TEXT = `title: A
kind: flight
zero: 2031-03-02T10:00:00Z
sources:
  - file: telemetrie.csv
    type: telemetry
    time: { column: t, code: elapsed-seconds }
    channels: { r: { as: range, unit: m } }
simulations: { files: runs/*.csv, like: telemetrie.csv }
plan: plan.yaml
`;
const folder = mkdtempSync(path.join(os.tmpdir(), 'wakeline-missing-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
mkdirSync(path.join(folder, 'runs'));
for (const name of ['session.yaml', 'telemetry.csv', 'truth.json', 'README.md', 'runs/1.csv']) {
  writeFileSync(path.join(folder, name), '');
}
const session = readSessionFile(TEXT, 'session.yaml').value;

async function unused(): Promise<readonly string[]> {
  return session === null ? [] : unusedFiles(folder, session);
}

function missing(file: string): Issue {
  const message = 'there is no such file in the session folder';
  return { code: 'file-missing', severity: 'error', file, message, expected: file };
}

test('a file that nothing names is listed once; runs, the description and a README are not', async () => {
  expect(await unused()).toEqual(['telemetry.csv', 'truth.json']);
  expect(unusedNote(await unused())).toMatchObject([
    { severity: 'note', message: expect.stringContaining('2 files are named nowhere') },
  ]);
  expect(unusedNote([])).toEqual([]);
});

test('a missing file is told with its key, its line and what lies there unused', async () => {
  const issues = [missing('telemetrie.csv'), missing('plan.yaml')];
  const told = explainMissing(issues, { fileName: 'session.yaml', text: TEXT }, await unused());
  expect(told).toMatchObject([
    {
      file: 'session.yaml',
      line: 5,
      keyPath: 'sources[0].file',
      received: 'telemetrie.csv',
      expected: expect.stringContaining('absent: awaited'),
      message:
        '"telemetrie.csv": there is no such file in the session folder; lying there and named nowhere: telemetry.csv, truth.json',
    },
    { file: 'session.yaml', line: 10, keyPath: 'plan', expected: 'a file of the folder' },
  ]);
});
