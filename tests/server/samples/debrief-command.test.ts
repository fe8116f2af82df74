import { spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { readArguments } from '@/lib/cli/debrief-arguments';
import { writeTogether } from '@/lib/cli/write-together';
import { folderOnDisk, smallSession } from '../../support/small-session';

const ENTRY = path.resolve('.built/debrief.mjs');
// The bundle is made by `npm test`; a run of this file alone may be without one.
const isBuilt = existsSync(ENTRY);

function runCommand(args: readonly string[], temporary = tmpdir()) {
  const { INIT_CWD: _, ...environment } = process.env;
  const result = spawnSync(process.execPath, [ENTRY, ...args], {
    encoding: 'utf8',
    env: { ...environment, TMPDIR: temporary },
  });
  return {
    status: result.status,
    out: result.stdout,
    errors: result.stderr.split('\n').filter((line) => line !== ''),
  };
}

function newFolder(): string {
  return mkdtempSync(path.join(tmpdir(), 'wakeline-command-'));
}

test('arguments are one folder, --out and --explain', () => {
  expect(readArguments(['folder', '--out', 'to'])).toEqual({
    kind: 'run',
    given: { folder: 'folder', out: 'to', explain: null },
  });
  expect(readArguments(['--out=to', 'folder', '--explain', 'k']).kind).toBe('run');
  expect(readArguments(['x', '--help']).kind).toBe('help');
  expect(readArguments([])).toEqual({
    kind: 'wrong',
    problems: ['FOLDER is missing: the path of a session folder', '--out DIR is missing'],
  });
  expect(readArguments(['a', 'b', '--out', '--loud'])).toEqual({
    kind: 'wrong',
    problems: ['--out needs a value', 'one FOLDER is expected, found 2'],
  });
});

test.skipIf(!isBuilt)('a folder becomes two files, and nothing else is left', () => {
  const out = path.join(newFolder(), 'deep', 'out');
  const temporary = newFolder();
  const run = runCommand([folderOnDisk(smallSession()), '--out', out], temporary);
  expect(run.errors).toEqual([]);
  expect(run.status).toBe(0);
  expect(readdirSync(out).sort()).toEqual(['debrief.html', 'reconstruction.json']);
  expect(readdirSync(temporary)).toEqual([]);
  const file = JSON.parse(readFileSync(path.join(out, 'reconstruction.json'), 'utf8'));
  expect(file.format).toBe('wakeline/reconstruction/1');
  expect(file.sources[0]).toMatchObject({
    file: 'telemetry.csv',
    rows_read: 601,
    rows_rejected: 0,
  });
  expect(run.out).toContain('closing-rate');
});

test.skipIf(!isBuilt)('bad input ends with 2, one line a fault, and writes nothing', () => {
  const folder = folderOnDisk(smallSession({ 'events.csv': null, 'rules.yaml': 'rules: 3\n' }));
  const out = path.join(newFolder(), 'out');
  const run = runCommand([folder, '--out', out]);
  expect(run.status).toBe(2);
  expect(run.errors.length).toBe(2);
  expect(run.errors.some((line) => /^session\.yaml:\d+ .*"events\.csv"/.test(line))).toBe(true);
  expect(run.errors.some((line) => line.startsWith('rules.yaml'))).toBe(true);
  expect(existsSync(out)).toBe(false);
});

test.skipIf(!isBuilt)(
  'a folder that is not there, and an output that is a file, end with 2',
  () => {
    const missing = runCommand([path.join(newFolder(), 'nowhere'), '--out', newFolder()]);
    expect([missing.status, missing.errors.length]).toEqual([2, 1]);
    const folder = folderOnDisk(smallSession());
    const run = runCommand([folder, '--out', path.join(folder, 'plan.yaml')]);
    expect([run.status, run.errors.length]).toEqual([2, 1]);
  },
);

test.skipIf(!isBuilt)('a figure explains itself; an unknown key lists near ones', () => {
  const folder = folderOnDisk(smallSession());
  const run = runCommand([folder, '--explain', 'session.duration_s']);
  expect(run.status).toBe(0);
  expect(run.out).toContain('session.duration_s = 120');
  const unknown = runCommand([folder, '--explain', 'session.length']);
  expect(unknown.status).toBe(2);
  expect(unknown.errors.join(' ')).toContain('session.duration_s');
});

test.each([
  ['a file', (folder: string) => path.join(folder, 'taken')],
  ['a folder under a file', (folder: string) => path.join(folder, 'taken', 'deep')],
  ['a folder with a folder called like a result', (folder: string) => folder],
])('an --out that is %s is left as it is', async (_, place) => {
  const folder = newFolder();
  writeFileSync(path.join(folder, 'taken'), 'mine');
  mkdirSync(path.join(folder, 'debrief.html'));
  const before = readdirSync(folder);
  const files = new Map([
    ['reconstruction.json', '{}'],
    ['debrief.html', ''],
  ]);
  await expect(writeTogether(place(folder), files)).rejects.toThrow();
  expect(readdirSync(folder)).toEqual(before);
  expect(readFileSync(path.join(folder, 'taken'), 'utf8')).toBe('mine');
});

test.skipIf(!existsSync('/proc/self'))(
  'an --out where no folder can be made is an error, not a wait',
  async () => {
    await expect(writeTogether('/proc/none/deep', new Map([['a', '']]))).rejects.toThrow();
  },
);
