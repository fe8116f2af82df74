/** What people decide about rules, on a real database: kept, read, undone, refused by its field. */

import { expect, test } from 'vitest';
import { parseInstant } from '@/lib/core/time/parse';
import { disposeRule } from '@/lib/server/commands/dispose-rule';
import { undoCorrection } from '@/lib/server/commands/undo-correction';
import { db } from '@/lib/server/db';
import { loadDispositions, loadWordsSince } from '@/lib/server/queries/load-corrections';
import { runCommand } from '@/lib/server/run-command';
import { readDisposition } from '@/lib/view/dispositions-view';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

/** An hour from 09:05:00 UTC. */
const HOUR = {
  session: { fromS: 0, toS: 3600 },
  zeroTaiNs: `${parseInstant('2031-04-17T09:05:00Z', 'UTC')?.taiNs}`,
};
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
  runCommand(disposeRule, { sessionId, ...readDisposition({ ...TYPED, ...typed }, HOUR).word });

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
  // What a schema says nothing of is told in words, not by the name of its check.
  const long = { givenBy: 'D'.repeat(401), reason: 'R'.repeat(2_001) };
  expect(await keep(sessionId, long)).toMatchObject({
    fields: {
      givenBy: 'At most 400 characters are taken.',
      reason: 'At most 2000 characters are taken.',
    },
  });
  const line = { source: 'log.csv', line: 0 };
  expect(
    await runCommand(disposeRule, { ...TYPED, sessionId, atS: 0, entry: line, amendedTo: null }),
  ).toMatchObject({ fields: { 'entry.line': 'At least 1 is needed.' } });
  expect(await runCommand(disposeRule, { ...TYPED, sessionId: 7, atS: 0 })).toMatchObject({
    fields: { sessionId: 'This is missing, or not of the kind that is asked for.' },
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
  expect(readDisposition({ ...TYPED, entry: 'line', atS: 'noon' }, HOUR).fields).toEqual({
    entry: '“line” cannot be read. Expected FILE, line NUMBER, or nothing.',
    atS: 'Not a time: hh:mm:ss, seconds, or a clock time such as 09:30:44 UTC.',
  });
  // Words typed for an amended rule are not dropped in silence.
  expect(readDisposition({ ...TYPED, amendedTo: 'Inside 4 deg.' }, HOUR).fields).toEqual({
    amendedTo: 'A rule that is waived holds no other words: choose amended, or leave this empty.',
  });
  expect(readDisposition({ ...TYPED, atS: '09:44:12 UTC' }, HOUR).word).toMatchObject({
    atS: 2352,
  });
  expect(await loadDispositions(sessionId)).toEqual([]);
});
