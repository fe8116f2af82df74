import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test, vi } from 'vitest';
import { localActor } from '@/lib/server/actor';
import { removeDemo } from '@/lib/server/commands/remove-demo';
import { publishedRoot, samplesRoot, sessionsRoot, uploadsRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import { currentEngine } from '@/lib/server/jobs/built';
import { queueDemoOnce, queueStaleReconstructions, recover } from '@/lib/server/jobs/recover';
import { readJob } from '@/lib/server/queries/load-job';
import { loadTrial } from '@/lib/server/queries/load-trial';
import { runCommand } from '@/lib/server/run-command';
import { pruneTrials, TRIALS_KEPT } from '@/lib/server/trials/prune-trials';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

type JobRow = { kind: string; state: string; attempt?: number; input?: string };

async function addJob(id: string, { kind, state, attempt = 1, input = '{}' }: JobRow) {
  const { teamId } = localActor();
  await db().job.create({ data: { id, teamId, kind, state, stage: 'x', attempt, input } });
}

/** Folders with a file in them. */
function addFolders(root: string, names: readonly string[]): void {
  for (const name of names) {
    mkdirSync(path.join(root, name), { recursive: true });
    writeFileSync(path.join(root, name, 'file'), 'x');
  }
}

async function logOf(work: () => Promise<void>): Promise<Record<string, unknown>[]> {
  const lines: string[] = [];
  const spy = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    lines.push(String(text));
    return true;
  });
  await work().finally(() => spy.mockRestore());
  return lines.map((line) => JSON.parse(line));
}

test('an import that was running is marked as broken off, with a sentence', async () => {
  await addJob('j1', { kind: 'import', state: 'running' });
  const log = await logOf(recover);
  expect(await readJob('j1')).toMatchObject({
    state: 'failed',
    result: {
      sessionId: null,
      issues: [{ message: 'The program stopped during this work; nothing of it was kept.' }],
    },
  });
  expect(log).toMatchObject([{ event: 'mended', what: 'work marked as broken off', job: 'j1' }]);
});

test('repeatable work is done again, but not for ever and not when it was cancelled', async () => {
  await addJob('demo', { kind: 'demo', state: 'running', attempt: 2 });
  await addJob('tired', { kind: 'reconstruct', state: 'running', attempt: 3 });
  await addJob('unwanted', { kind: 'reconstruct', state: 'running' });
  await db().job.update({ where: { id: 'unwanted' }, data: { cancelRequested: true } });
  await logOf(recover);
  expect((await readJob('demo'))?.state).toBe('waiting');
  expect((await readJob('tired'))?.state).toBe('failed');
  expect((await readJob('unwanted'))?.state).toBe('failed');
});

test('folders that no row names are removed, the others stay, and the log counts them', async () => {
  const sessionId = await addSession('s1');
  await db().reconstruction.create({
    data: { id: 'r', sessionId, inputsSha256: 'x', engine: 'x', body: '{}', derivedFolder: 'd1' },
  });
  const source = { id: 'v', sessionId, file: 'a.csv', type: 'telemetry', number: 1, sha256: 'x' };
  await db().sourceVersion.create({
    data: { ...source, bytes: 1n, folder: 't1', declared: '{}', report: '{}' },
  });
  const publication = { id: 'p', teamId: 'local', number: 1, revision: 1, title: 'x' };
  await db().publication.create({
    data: { ...publication, sha256: 'x', folder: '0001/1', publishedBy: 'x' },
  });
  await addJob('j1', { kind: 'import', state: 'waiting', input: '{"uploadId":"u1"}' });
  addFolders(samplesRoot(), ['d1', 't1', 'orphan', '.tmp-1']);
  addFolders(sessionsRoot(), ['s1', 's2', 's3.part']);
  addFolders(uploadsRoot(), ['u1', 'u2']);
  addFolders(publishedRoot(), ['0001/1', '0001/2', '0002/1']);

  const log = await logOf(recover);

  const left = (root: string, name: string): boolean => existsSync(path.join(root, name, 'file'));
  expect(['d1', 't1'].every((name) => left(samplesRoot(), name))).toBe(true);
  expect(left(sessionsRoot(), 's1')).toBe(true);
  expect(left(uploadsRoot(), 'u1')).toBe(true);
  expect(left(publishedRoot(), '0001/1')).toBe(true);
  expect(['orphan', '.tmp-1'].some((name) => left(samplesRoot(), name))).toBe(false);
  expect(['s2', 's3.part'].some((name) => left(sessionsRoot(), name))).toBe(false);
  expect(left(uploadsRoot(), 'u2')).toBe(false);
  expect(['0001/2', '0002/1'].some((name) => left(publishedRoot(), name))).toBe(false);
  expect(log.map((line) => [line.place, line.count])).toEqual([
    ['uploads', 1],
    ['samples', 2],
    ['sessions', 2],
    ['published', 2],
  ]);
});

test('a second start has nothing to mend and says nothing', async () => {
  await addJob('j1', { kind: 'import', state: 'running' });
  addFolders(samplesRoot(), ['orphan']);
  await logOf(recover);
  expect(await logOf(recover)).toEqual([]);
});

test('a session computed by another engine is computed again, asked for once', async () => {
  for (const [id, engine] of [
    ['old', 'before'],
    ['new', currentEngine()],
  ] as const) {
    const sessionId = await addSession(id);
    const row = { id, sessionId, inputsSha256: 'x', engine, body: '{}', derivedFolder: 'd' };
    await db().reconstruction.create({ data: row });
  }
  await queueStaleReconstructions();
  await queueStaleReconstructions();
  const jobs = await db().job.findMany({ select: { kind: true, sessionId: true, state: true } });
  expect(jobs).toEqual([{ kind: 'reconstruct', sessionId: 'old', state: 'waiting' }]);
});

test('the demo is asked for at the first start, and not again once it was removed', async () => {
  await queueDemoOnce();
  await queueDemoOnce();
  expect(await db().job.count({ where: { kind: 'demo' } })).toBe(1);
  await db().session.update({
    where: { id: await addSession('demo') },
    data: { origin: 'demo' },
  });
  await addSession('mine');
  expect(await runCommand(removeDemo, {})).toEqual({ ok: true, data: { sessions: 1 } });
  await queueDemoOnce();
  expect(await db().job.findMany({ select: { state: true } })).toEqual([{ state: 'cancelled' }]);
  expect(await db().session.findMany({ select: { id: true } })).toEqual([{ id: 'mine' }]);
  expect(await runCommand(removeDemo, {})).toMatchObject({ ok: false, code: 'no-demo' });
});

test('ended previews go with age and beyond the newest; what still waits or runs stays', async () => {
  const dayMs = 24 * 3_600_000;
  const { teamId } = localActor();
  const made = (id: string, state: string, daysAgo: number, kind = 'trial') => ({
    id,
    teamId,
    kind,
    state,
    stage: '',
    input: '{}',
    createdAt: new Date(Date.now() - daysAgo * dayMs),
  });
  const { days, count } = TRIALS_KEPT;
  const fresh = Array.from({ length: count }, (_, k) => made(`fresh-${k}`, 'done', k / count));
  await db().job.createMany({
    data: [
      ...fresh,
      made('one-too-many', 'failed', 2),
      made('too-old', 'cancelled', days + 1),
      made('waits', 'waiting', days + 1),
      made('imported', 'done', days + 1, 'import'),
    ],
  });
  const log = await logOf(recover);
  expect(log).toContainEqual(expect.objectContaining({ event: 'previews-removed', count: 2 }));
  const left = (await db().job.findMany({ select: { id: true } })).map(({ id }) => id);
  expect(left.sort()).toEqual([...fresh.map(({ id }) => id), 'imported', 'waits'].sort());
  await db().job.update({ where: { id: 'fresh-0' }, data: { createdAt: new Date(0) } });
  expect(await pruneTrials()).toBe(1);
  expect(await loadTrial('fresh-0')).toBeNull();
});
