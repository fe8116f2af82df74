import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { readSessionFolder } from '@/lib/server/session-folder';
import { folderOnDisk, smallSession } from '../../support/small-session';

function newRoot(): string {
  return path.join(mkdtempSync(path.join(tmpdir(), 'wakeline-root-')), 'samples');
}

async function readFiles(files: ReadonlyMap<string, string>) {
  return readSessionFolder(folderOnDisk(files), { samplesRoot: newRoot() });
}

function changeSession(from: string, to: string): Record<string, string> {
  const text = smallSession().get('session.yaml') ?? '';
  expect(text).toContain(from);
  return { 'session.yaml': text.replace(from, to) };
}

test('a folder is read whole, every file with the hash of its bytes', async () => {
  const files = smallSession();
  const read = await readFiles(files);
  expect(read.issues).toEqual([]);
  expect(read.input?.sources.map((source) => source.file)).toEqual(['telemetry.csv', 'events.csv']);
  expect(read.input?.plan?.steps.length).toBe(2);
  expect(read.telemetry[0]?.report).toMatchObject({ rowsRead: 601, rows: 601 });
  const hashes = new Map(read.files.map((file) => [file.name, file.sha256]));
  expect(hashes.size).toBe(5);
  for (const [name, text] of files) {
    expect(hashes.get(name)).toBe(createHash('sha256').update(text).digest('hex'));
  }
});

test('two readings of a folder agree to the last bit', async () => {
  const first = await readFiles(smallSession());
  const second = await readFiles(smallSession());
  expect(second.input).toEqual(first.input);
});

const FAULTS: [string, Record<string, string | null>, string[]][] = [
  ['no session.yaml', { 'session.yaml': null }, ['session-file-missing']],
  ['a missing plan', { 'plan.yaml': null }, ['file-missing']],
  [
    'a missing log and a missing source',
    { 'events.csv': null, 'telemetry.csv': null },
    ['file-missing', 'file-missing'],
  ],
  ['an empty source', { 'telemetry.csv': '' }, ['file-empty']],
  [
    'a source without a channel',
    { 'telemetry.csv': 't,x,y,z,vx,vy\n0,1,2,3,4,5\n1,1,2,3,4,5\n' },
    ['column-missing'],
  ],
];

test.each(FAULTS)('%s is one error each, and nothing is imported', async (_, changes, codes) => {
  const samplesRoot = newRoot();
  const read = await readSessionFolder(folderOnDisk(smallSession(changes)), { samplesRoot });
  expect(read.input).toBeNull();
  const errors = read.issues.filter((issue) => issue.severity === 'error');
  expect(errors.map((issue) => issue.code)).toEqual(codes);
});

test('a source that is missing is told with the way to do without it, a plan is not', async () => {
  const { issues } = await readFiles(smallSession({ 'plan.yaml': null, 'events.csv': null }));
  expect(issues.map(({ received, expected }) => [received, expected])).toEqual([
    ['plan.yaml', 'a file of the folder'],
    ['events.csv', expect.stringContaining('"absent: awaited"')],
  ]);
});

test('a path that leaves the folder is refused', async () => {
  const read = await readFiles(
    smallSession(changeSession('plan: plan.yaml', 'plan: ../plan.yaml')),
  );
  expect(read.input).toBeNull();
  expect(read.issues.some((issue) => issue.code === 'file-outside-folder')).toBe(true);
});

test('a symbolic link is not followed', async () => {
  const folder = folderOnDisk(smallSession({ 'events.csv': null }));
  const outside = path.join(folder, '..', 'outside.csv');
  writeFileSync(outside, 't,event\n1,secret\n');
  symlinkSync(outside, path.join(folder, 'events.csv'));
  const read = await readSessionFolder(folder, { samplesRoot: newRoot() });
  expect(read.input).toBeNull();
  expect(read.issues.map((issue) => issue.code)).toEqual(['file-is-link']);
});

test('a plan of more than a megabyte is refused by its size', async () => {
  const read = await readFiles(smallSession({ 'plan.yaml': `# ${'x'.repeat(1_000_001)}\n` }));
  expect(read.issues.map((issue) => issue.code)).toEqual(['file-too-large']);
});

test('faults of several files come together', async () => {
  const read = await readFiles(
    smallSession({
      'plan.yaml': 'plan: 3\n',
      'rules.yaml': null,
      'telemetry.csv': 'a,b\n1,2\n2,3\n',
    }),
  );
  const files = new Set(
    read.issues
      .filter((issue) => issue.severity === 'error')
      .map(({ file, keyPath }) => keyPath ?? file),
  );
  expect([...files].sort()).toEqual(['plan', 'rules', 'telemetry.csv']);
});

test('faults of session.yaml do not hide those of the files it names', async () => {
  const text = (smallSession().get('session.yaml') ?? '')
    .replace('kind: flight', 'kind: fligth\nmood: good')
    .replace('as: velocity.x, unit: m/s', 'as: velocity.x, unit: mph');
  const read = await readFiles(
    smallSession({
      'session.yaml': text,
      'plan.yaml': null,
      'rules.yaml': 'rules: 3\n',
      'events.csv': 'when,event\n1,go\n',
      'telemetry.csv': 't,x,y,z,vx,vy\n0,1,2,3,4,5\n1,1,2,3,4,5\n',
    }),
  );
  expect(read.input).toBeNull();
  expect(read.issues.map((issue) => [issue.file, issue.code])).toEqual([
    ['session.yaml', 'value-unknown'],
    ['session.yaml', 'key-unknown'],
    ['session.yaml', 'unit-wrong'],
    ['session.yaml', 'file-missing'],
    ['rules.yaml', 'type-wrong'],
    ['telemetry.csv', 'column-missing'],
    ['events.csv', 'column-missing'],
  ]);
});

test('a log is read in the encoding and with the separator that are stated', async () => {
  const files = smallSession(
    changeSession(
      'file: events.csv\n    type: events',
      'file: events.csv\n    type: events\n    encoding: latin-1\n    separator: pipe',
    ),
  );
  const folder = folderOnDisk(files);
  writeFileSync(
    path.join(folder, 'events.csv'),
    Buffer.from('t|event|text\n40|go|Größe, klar.\n', 'latin1'),
  );
  const read = await readSessionFolder(folder, { samplesRoot: newRoot() });
  expect(read.issues).toEqual([]);
  const log = read.input?.sources[1];
  expect(log?.type === 'events' && log.entries.map((entry) => entry.text)).toEqual([
    'Größe, klar.',
  ]);
});

test('times far from zero are a warning, for a year that was mistyped', async () => {
  const read = await readFiles(smallSession({ 'events.csv': 't,event\n86400000,go\n' }));
  expect(read.input).not.toBeNull();
  expect(
    read.issues.map(({ file, code, severity, received }) => [file, code, severity, received]),
  ).toEqual([['events.csv', 'far-from-zero', 'warning', '1000 days after zero']]);
});

test('a text file that is none is called what it is, with the line where it stops being text', async () => {
  const folder = folderOnDisk(smallSession());
  writeFileSync(path.join(folder, 'plan.yaml'), Buffer.from('PK\u0003\u0004', 'latin1'));
  writeFileSync(path.join(folder, 'rules.yaml'), Buffer.from('# one\n# two \u00e9\n', 'latin1'));
  writeFileSync(path.join(folder, 'events.csv'), 't,event\n'.repeat(3).replaceAll('t', '\u0000'));
  const read = await readSessionFolder(folder, { samplesRoot: newRoot() });
  expect(read.issues.map(({ file, code, message }) => [file, code, message])).toEqual([
    [
      'plan.yaml',
      'not-text',
      'must be text, found a zip archive; unpack it and put the files in the folder',
    ],
    ['rules.yaml', 'not-text', expect.stringContaining('line 2 is no UTF-8')],
    ['events.csv', 'not-text', expect.stringContaining('binary data, or UTF-16 without')],
  ]);
});

test('simulator runs that are not there are a warning; what was flown is read', async () => {
  const text = `${smallSession().get('session.yaml')}simulations:\n  files: simulations/*.csv\n  like: telemetry.csv\n`;
  const read = await readFiles(smallSession({ 'session.yaml': text }));
  expect(read.input?.simulations).toBeUndefined();
  expect(read.issues.map(({ severity, file, message }) => [severity, file, message])).toEqual([
    ['warning', 'simulations/*.csv', 'no file of the session folder fits this pattern'],
  ]);
});

test('the second reading with one root recognises the telemetry', async () => {
  const samplesRoot = newRoot();
  const folder = folderOnDisk(smallSession());
  await readSessionFolder(folder, { samplesRoot });
  const again = await readSessionFolder(folder, { samplesRoot });
  expect(again.telemetry[0]?.report.recognised).toBe(true);
  expect(readdirSync(samplesRoot)).toEqual([again.telemetry[0]?.folder]);
});

test.each(['__proto__', 'constructor', 'toString'])(
  'a rule on the quantity %s is a rule on a channel that is not there',
  async (quantity) => {
    const rules = `rules:
  - { id: r, statement: S, quantity: ${quantity}, limit: { constant: 1, unit: ${quantity} } }
`;
    const { input } = await readFiles(smallSession({ 'rules.yaml': rules }));
    if (input === null) throw new Error('not read');
    const { reconstruction } = reconstruct(input, { engine: 'test', sha256: (text) => text });
    expect(reconstruction.rules.map(({ verdict, reason }) => [verdict, reason])).toEqual([
      ['not evaluated', 'no-such-channel'],
    ]);
  },
);
