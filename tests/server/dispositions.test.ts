/** What people decide about rules, on a real database: kept, read, undone, refused by its field. */
import { expect, test } from 'vitest';
import { disposeRule } from '@/lib/server/commands/dispose-rule';
import { undoCorrection } from '@/lib/server/commands/undo-correction';
import { db } from '@/lib/server/db';
import { loadDispositions, loadWordsSince } from '@/lib/server/queries/load-corrections';
import { runCommand } from '@/lib/server/run-command';
import { readDisposition } from '@/lib/view/dispositions-view';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

const TYPED = {
  rule: 'corridor',
  disposition: 'waived',
  givenBy: 'DIRECTOR',
  entry: '',
  atS: '00:39:12',
  amendedTo: '',
  reason: 'as briefed',
};
const keep = (sessionId: string, typed: Readonly<Record<string, string>> = {}) =>
  runCommand(disposeRule, { sessionId, ...readDisposition({ ...TYPED, ...typed }).word });

test('a disposition is kept with who, when and why, and undone by a date', async () => {
  const sessionId = await addSession('s');
  const kept = await keep(sessionId);
  expect(kept.ok).toBe(true);
  const [one] = (await loadWordsSince(sessionId)).standing.ruleDispositions ?? [];
  expect(one).toEqual({
    rule: 'corridor',
    disposition: 'waived',
    givenBy: 'DIRECTOR',
    atS: 2352,
    entry: null,
    amendedTo: null,
    by: 'Local reviewer',
    reason: 'as briefed',
  });
  const id = kept.ok ? kept.data.id : '';
  expect((await runCommand(undoCorrection, { id, version: 1 })).ok).toBe(true);
  expect((await loadWordsSince(sessionId)).standing.ruleDispositions).toBeUndefined();
  expect((await loadDispositions(sessionId)).map(({ undone }) => undone?.by)).toEqual([
    'Local reviewer',
  ]);
});

test('what is missing is named by its field, and nothing is kept', async () => {
  const sessionId = await addSession('s');
  expect(await keep(sessionId, { givenBy: ' ' })).toMatchObject({
    fields: { givenBy: 'Who decided it is needed.' },
  });
  expect(await keep(sessionId, { disposition: 'amended' })).toMatchObject({
    fields: { amendedTo: 'The words that were to hold instead are needed.' },
  });
  expect(await keep(sessionId, { entry: 'nowhere.csv, line 3' })).toMatchObject({
    code: 'no-such-source',
  });
  const log = {
    number: 1,
    sha256: '0'.repeat(64),
    bytes: 1n,
    folder: '',
    declared: '{}',
    report: '{}',
  };
  await db().sourceVersion.create({
    data: { id: 'log', sessionId, file: 'log.csv', type: 'events', ...log },
    select: { id: true },
  });
  expect(await keep(sessionId, { entry: 'log.csv, line 3' })).toMatchObject({
    code: 'no-such-entry',
    message: 'log.csv has no entry on line 3.',
  });
  expect(readDisposition({ ...TYPED, entry: 'line', atS: 'noon' }).fields).toEqual({
    entry: '“line” cannot be read. Expected FILE, line NUMBER, or nothing.',
    atS: '“noon” cannot be read. Expected hh:mm:ss, hh:mm:ss.s, seconds or nothing.',
  });
  expect(await loadDispositions(sessionId)).toEqual([]);
});
