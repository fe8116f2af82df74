/** Versions of a rule set on a real database: saved, tried on a session, put in use and taken back. */
import { cpSync, rmSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { disposeRule } from '@/lib/server/commands/dispose-rule';
import { putInUse } from '@/lib/server/commands/put-in-use';
import { saveVersion } from '@/lib/server/commands/save-version';
import { startImport } from '@/lib/server/commands/start-import';
import { tryVersion } from '@/lib/server/commands/try-version';
import { db } from '@/lib/server/db';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { readUsedInput } from '@/lib/server/jobs/used-input';
import { newId } from '@/lib/server/new-id';
import { loadEntry, loadRegister, loadVersionText } from '@/lib/server/queries/load-register';
import { loadTrial } from '@/lib/server/queries/load-trial';
import { loadUsedTexts } from '@/lib/server/queries/load-used-texts';
import { loadChangedSince } from '@/lib/server/queries/load-version-uses';
import { runCommand } from '@/lib/server/run-command';
import { uploadFolder } from '@/lib/server/uploads/receive-file';
import { freshDataDir } from '../support/data-dir';
import { folderOnDisk, smallSession } from '../support/small-session';

freshDataDir();
afterEach(() => stopQueue());

async function workOff(): Promise<void> {
  startQueue();
  const where = { state: { in: ['waiting', 'running'] } };
  const open = expect.poll(() => db().job.count({ where }));
  await open.toBe(0);
  await stopQueue();
}

async function importSmall(): Promise<string> {
  const folder = folderOnDisk(smallSession());
  const uploadId = newId();
  const files = path.join(uploadFolder(uploadId), 'files');
  await mkdir(files, { recursive: true });
  cpSync(folder, files, { recursive: true });
  rmSync(path.dirname(folder), { recursive: true, force: true });
  await runCommand(startImport, { uploadId });
  await workOff();
  return (await db().session.findFirstOrThrow({ select: { id: true } })).id;
}

const rules = (limit: number): string => `rules:
  - id: closing-rate
    statement: Closing rate stays at or under ${limit} m/s.
    quantity: closing_rate
    limit: { constant: ${limit}, unit: m/s }
`;
const FIRST = { kind: 'rules', entryId: null, version: 0, reason: 'first issue' } as const;
const TITLED = `title: Arrival rules\n${rules(0.5)}`;

async function usedVersionId(id: string): Promise<string | null> {
  return (await db().session.findUniqueOrThrow({ where: { id } })).ruleSetVersionId;
}

/** By hand: the small session closes at 0.3 m/s, so a limit of 0.25 m/s is passed by 0.05 m/s. */
test('a tighter limit is tried, saved, put in use for one session and taken back', async () => {
  const sessionId = await importSmall();
  const waiver = { sessionId, rule: 'closing-rate', disposition: 'waived', givenBy: 'DIRECTOR' };
  await runCommand(disposeRule, {
    ...waiver,
    atS: null,
    entry: null,
    amendedTo: null,
    reason: 'as briefed',
  });
  const [entry] = await loadRegister('rules');
  const entryId = entry?.entryId ?? '';
  expect(entry?.versions).toMatchObject([{ number: 1, author: '', sessions: [{ id: sessionId }] }]);

  const before = await db().session.findMany();
  const draft = { kind: 'rules', entryId, text: rules(0.25) } as const;
  const asked = await runCommand(tryVersion, { ...draft, sessionIds: [sessionId] });
  await workOff();
  expect(await db().session.findMany()).toEqual(before);
  const kept = await loadTrial(asked.ok ? asked.data.jobId : '');
  const [one] = kept?.trial.sessions ?? [];
  const [rule] = one?.differences?.rules ?? [];
  expect(rule).toMatchObject({ differs: true, before: { verdict: 'met' } });
  expect(rule?.after?.verdict).toBe('broken');
  expect(Math.abs((rule?.after?.margin?.value ?? 0) + 0.05)).toBeLessThan(0.005);
  expect(one?.dispositions).toEqual([
    { rule: 'closing-rate', disposition: 'waived', change: 'altered' },
  ]);

  const saved = await runCommand(saveVersion, { ...draft, version: 1, reason: 'handbook change' });
  expect(saved).toMatchObject({ ok: true, data: { number: 2, entryId } });
  const firstId = await usedVersionId(sessionId);
  const secondId = saved.ok ? saved.data.id : '';
  expect(firstId).not.toBe(secondId);

  const use = (versionId: string, version: number) =>
    runCommand(putInUse, { sessionId, version, kind: 'rules', versionId, reason: 'as agreed' });
  expect((await use(secondId, 1)).ok).toBe(true);
  await workOff();
  const shown = await db().reconstruction.findFirstOrThrow({ orderBy: { createdAt: 'desc' } });
  expect(shown.body).toContain('"verdict":"broken"');
  const edition = { id: sessionId, filesNumber: 1 };
  expect([...(await loadUsedTexts(edition))]).toEqual([['rules.yaml', rules(0.25)]]);
  const changed = { rule: 'closing-rate', disposition: 'waived', change: 'altered' };
  expect(await loadChangedSince(sessionId)).toMatchObject([{ ...changed, from: 1, to: 2 }]);
  expect((await use(firstId ?? '', 1)).ok).toBe(false);
  expect((await use(firstId ?? '', 2)).ok).toBe(true);
  const [limit] = (await readUsedInput(edition)).rules;
  expect((await loadUsedTexts(edition)).size).toBe(0);
  expect(limit).toMatchObject({ limit: { value: 0.5 } });
  expect(await db().versionUse.findMany({ orderBy: { createdAt: 'asc' } })).toMatchObject([
    { fromVersionId: firstId, toVersionId: secondId, author: 'Local reviewer' },
    { fromVersionId: secondId, toVersionId: firstId, reason: 'as agreed' },
  ]);
});

test('two people save from one version: the second is told, and nothing is passed over', async () => {
  const first = await runCommand(saveVersion, { ...FIRST, text: TITLED });
  const entryId = first.ok ? first.data.entryId : '';
  const save = (limit: number, version: number) =>
    runCommand(saveVersion, { kind: 'rules', entryId, version, text: rules(limit), reason: 'r' });
  expect((await save(0.4, 1)).ok).toBe(true);
  expect(await save(0.3, 1)).toMatchObject({
    code: 'changed-meanwhile',
    newer: { number: 2, author: 'Local reviewer', reason: 'r' },
  });
  const entry = await loadEntry('rules', entryId);
  expect(entry?.versions.map(({ number, title }) => [number, title])).toEqual([
    [2, 'Arrival rules'],
    [1, 'Arrival rules'],
  ]);
  expect((await loadVersionText('rules', entryId, 1))?.text).toBe(TITLED);
});

test('what is no version is refused in words: faults, the same bytes, an id that is taken', async () => {
  const save = (text: string, more: object = {}) =>
    runCommand(saveVersion, { ...FIRST, text, ...more });
  expect(await save(rules(0.5))).toMatchObject({ code: 'title-missing' });
  expect(await save(TITLED, { reason: ' ' })).toMatchObject({
    fields: { reason: 'A reason is needed.' },
  });
  expect(await save(TITLED.replace('constant', 'constnat'))).toMatchObject({
    code: 'not-readable',
    message: expect.stringMatching(/line 6, rules\[0\]\.limit\.constnat: unknown key "constnat"/),
  });
  expect((await save(`id: arrival\n${TITLED}`)).ok).toBe(true);
  expect(await save(`id: arrival\n${TITLED}`)).toMatchObject({
    message: 'This is version 1 of Arrival rules to the letter.',
  });
  expect(await save(`id: arrival\n${TITLED}\n`)).toMatchObject({ code: 'id-elsewhere' });
});
