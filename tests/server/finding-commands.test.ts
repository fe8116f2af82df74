import { expect, test } from 'vitest';
import { createAnnotation } from '@/lib/server/commands/create-annotation';
import { createFinding } from '@/lib/server/commands/create-finding';
import { editAnnotation } from '@/lib/server/commands/edit-annotation';
import { editFinding } from '@/lib/server/commands/edit-finding';
import { removeAnnotation } from '@/lib/server/commands/remove-annotation';
import { db } from '@/lib/server/db';
import { loadAnnotations } from '@/lib/server/queries/load-annotations';
import { loadFindings } from '@/lib/server/queries/load-findings';
import { runCommand } from '@/lib/server/run-command';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

const words = {
  title: 'Closed too fast',
  seen: 'The closing rate stayed over the limit.',
  change: '',
  kind: 'anomaly',
  severity: 'serious',
  state: 'draft',
  fromS: 100,
  toS: 112.5,
  channels: ['closing_rate'],
} as const;

const figure = {
  key: 'stretch.peak',
  label: 'Peak closing rate',
  figure: {
    value: 0.31,
    unit: 'm/s',
    uncertainty: { random: 0.002, systematic: null },
    method: 'largest value of the stretch',
    evidence: {
      sources: [{ file: 'a.csv', sha256: 'ab' }],
      channels: ['range'],
      fromS: 100,
      toS: 112.5,
    },
  },
} as const;

async function made(sessionId: string) {
  const result = await runCommand(createFinding, { sessionId, ...words, figures: [figure] });
  if (!result.ok) throw new Error(result.message);
  return result.data;
}

test('findings of a session are numbered from 1 and come back as they were written', async () => {
  const sessionId = await addSession('s1');
  await made(sessionId);
  const second = await made(sessionId);
  expect(second.number).toBe(2);
  const [first] = await loadFindings(sessionId);
  expect(first).toMatchObject({ number: 1, version: 1, title: words.title, figures: [figure] });
  expect(first?.anchor).toEqual({
    sessionId,
    fromS: 100,
    toS: 112.5,
    channels: ['closing_rate'],
  });
});

test('the second of two people who edit the same finding is shown the newer text', async () => {
  const finding = await made(await addSession('s1'));
  const edit = { id: finding.id, version: finding.version, ...words, figures: [] };
  const first = await runCommand(editFinding, { ...edit, title: 'First hand' });
  const second = await runCommand(editFinding, { ...edit, title: 'Second hand' });
  expect(first.ok).toBe(true);
  expect(second).toMatchObject({
    ok: false,
    code: 'changed-meanwhile',
    newer: { title: 'First hand', version: 2 },
  });
  expect((await loadFindings('s1'))[0]?.title).toBe('First hand');
});

test('an action has an owner and a date that exists, and keeps them while other words change', async () => {
  const finding = await made(await addSession('s1'));
  expect(finding).toMatchObject({ owner: '', due: '' });
  const edit = (from: number, more: object) =>
    runCommand(editFinding, { id: finding.id, version: from, ...words, figures: [], ...more });
  // ISO 8601-1:2019, 5.2.2.1: 2027 has no 29 February, for it is no leap year.
  const refused = await edit(1, { owner: ' Guidance lead ', due: '2027-02-29' });
  expect(refused).toMatchObject({
    ok: false,
    fields: { due: expect.stringMatching(/yyyy-mm-dd/) },
  });
  const kept = { owner: 'Guidance lead', due: '2028-02-29' };
  expect(await edit(1, { ...kept, owner: ' Guidance lead ' })).toMatchObject({ data: kept });
  expect(await edit(2, { title: 'Other words' })).toMatchObject({ data: kept });
  expect((await loadFindings('s1'))[0]).toMatchObject({ title: 'Other words', ...kept });
  expect(await edit(3, { owner: '', due: '' })).toMatchObject({ data: { owner: '', due: '' } });
});

test('input that does not fit is refused with a sentence per field and leaves no row', async () => {
  const sessionId = await addSession('s1');
  const result = await runCommand(createFinding, {
    sessionId,
    ...words,
    title: ' ',
    severity: 'huge',
  });
  expect(result).toMatchObject({
    ok: false,
    code: 'invalid-input',
    fields: {
      title: 'A title is needed.',
      severity: 'One of: note, minor, serious, critical.',
    },
  });
  expect(await loadFindings(sessionId)).toEqual([]);
});

test('a stretch that ends before it starts and a session that is not there are refused', async () => {
  const sessionId = await addSession('s1');
  const backwards = await runCommand(createFinding, { sessionId, ...words, toS: 99 });
  const nowhere = await runCommand(createFinding, { sessionId: 'none', ...words });
  expect(backwards).toMatchObject({ ok: false, code: 'stretch-backwards' });
  expect(nowhere).toMatchObject({ ok: false, code: 'no-such-session' });
});

test('an annotation is written, changed and taken away, each under its version', async () => {
  const sessionId = await addSession('s1');
  const stretch = { fromS: 1, toS: 2, channels: [] };
  const note = await runCommand(createAnnotation, { sessionId, text: 'Jet noise', ...stretch });
  if (!note.ok) throw new Error(note.message);
  const { id } = note.data;
  await runCommand(editAnnotation, { id, version: 1, text: 'Jet noise?', ...stretch });
  expect((await loadAnnotations(sessionId))[0]).toMatchObject({ text: 'Jet noise?', version: 2 });
  expect(await runCommand(removeAnnotation, { id, version: 1 })).toMatchObject({
    code: 'changed-meanwhile',
  });
  expect((await runCommand(removeAnnotation, { id, version: 2 })).ok).toBe(true);
  expect(await loadAnnotations(sessionId)).toEqual([]);
  expect(await runCommand(removeAnnotation, { id, version: 3 })).toMatchObject({
    code: 'not-found',
  });
});

test('each command leaves one audit row, refused ones included', async () => {
  const finding = await made(await addSession('s1'));
  await runCommand(editFinding, { id: finding.id, version: 9, ...words, figures: [] });
  await runCommand(createFinding, {});
  const rows = await db().auditEntry.findMany({
    orderBy: { at: 'asc' },
    select: { command: true, subject: true, outcome: true, detail: true, actor: true },
  });
  const actor = 'Local reviewer';
  expect(rows).toEqual([
    { command: 'create-finding', subject: finding.id, outcome: 'done', detail: '{}', actor },
    {
      command: 'edit-finding',
      subject: finding.id,
      outcome: 'refused',
      detail: '{"code":"changed-meanwhile"}',
      actor,
    },
    {
      command: 'create-finding',
      subject: '',
      outcome: 'refused',
      detail: '{"code":"invalid-input"}',
      actor,
    },
  ]);
});
