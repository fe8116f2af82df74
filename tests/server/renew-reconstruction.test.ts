/** After a change of the numerics: sessions are computed again, and what is shown meanwhile. */
import { cpSync, rmSync } from 'node:fs';
import { mkdir, rename } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { startImport } from '@/lib/server/commands/start-import';
import { samplesRoot } from '@/lib/server/data-folders';
import { closeDatabase, db } from '@/lib/server/db';
import { currentEngine } from '@/lib/server/jobs/built';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { queueStaleReconstructions } from '@/lib/server/jobs/recover';
import { newId } from '@/lib/server/new-id';
import { readJob } from '@/lib/server/queries/load-job';
import { loadDerivedFolder, loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { loadRenewal } from '@/lib/server/queries/load-renewal';
import { loadSources } from '@/lib/server/queries/load-sources';
import { runCommand } from '@/lib/server/run-command';
import { uploadFolder } from '@/lib/server/uploads/receive-file';
import { renewalView } from '@/lib/view/renewal-view';
import { freshDataDir } from '../support/data-dir';
import { folderOnDisk, smallSession } from '../support/small-session';

const { dataDir } = freshDataDir();

const EARLIER = 'an-earlier-engine';
const shared = { folder: '', imported: '', sessionId: '' };
beforeAll(() => {
  shared.folder = folderOnDisk(smallSession());
  shared.imported = path.join(path.dirname(shared.folder), 'imported');
});
afterAll(() => rmSync(path.dirname(shared.folder), { recursive: true, force: true }));
afterEach(() => stopQueue());

/** The queue runs until no job waits or runs. */
async function workOff(): Promise<void> {
  startQueue();
  const where = { state: { in: ['waiting', 'running'] } };
  const open = expect.poll(() => db().job.count({ where }));
  await open.toBe(0);
  await stopQueue();
}

async function imported(): Promise<string> {
  const uploadId = newId();
  const files = path.join(uploadFolder(uploadId), 'files');
  await mkdir(files, { recursive: true });
  cpSync(shared.folder, files, { recursive: true });
  const asked = await runCommand(startImport, { uploadId });
  if (!asked.ok) throw new Error(asked.message);
  await workOff();
  return (await readJob(asked.data.jobId))?.sessionId ?? '';
}

/** The small session, whose reconstruction is one of an earlier engine; imported once, then copied. */
async function sessionComputedBefore(): Promise<string> {
  if (shared.sessionId === '') {
    shared.sessionId = await imported();
    await closeDatabase();
    cpSync(dataDir(), shared.imported, { recursive: true });
  } else {
    await closeDatabase();
    cpSync(shared.imported, dataDir(), { recursive: true });
  }
  const row = await db().reconstruction.findFirstOrThrow({ select: { body: true } });
  const body = row.body.replace('"title":"Small arrival"', '"title":"As computed before"');
  await db().reconstruction.updateMany({ data: { engine: EARLIER, body } });
  return shared.sessionId;
}

const titleShown = async (sessionId: string) =>
  (await loadReconstruction(sessionId))?.session.title;

test('a reconstruction of another engine is shown until a new one replaces it', async () => {
  const sessionId = await sessionComputedBefore();
  const publication = { id: 'p', teamId: 'local', number: 1, revision: 1, title: 'Debrief' };
  await db().publication.create({
    data: { ...publication, sessionId, sha256: 'x', folder: '0001/1', publishedBy: 'x' },
  });
  const published = await db().publication.findMany();

  await queueStaleReconstructions();
  expect(await titleShown(sessionId)).toBe('As computed before');
  const waiting = await loadRenewal(sessionId);
  expect(waiting).toMatchObject({ state: 'waiting', reasons: [] });
  expect(renewalView(waiting)?.text).toContain('It waits to be computed again');
  expect(renewalView(waiting)?.followedJobId).toBe(waiting?.jobId);

  await workOff();
  expect(await titleShown(sessionId)).toBe('Small arrival');
  expect(await loadRenewal(sessionId)).toBeNull();
  expect(await loadDerivedFolder(sessionId)).toMatch(/^[0-9a-f]{12}-[0-9a-f]{12}$/);
  const engines = await db().reconstruction.findMany({
    orderBy: { createdAt: 'asc' },
    select: { engine: true },
  });
  expect(engines).toEqual([{ engine: EARLIER }, { engine: currentEngine() }]);
  expect(await db().publication.findMany()).toEqual(published);
  await queueStaleReconstructions();
  expect(await db().job.count({ where: { state: 'waiting' } })).toBe(0);

  // One that waits behind another was asked for before that one's result was kept.
  const work = { kind: 'reconstruct', state: 'waiting', stage: 'Waiting', input: '{}' };
  await db().job.create({ data: { id: 'behind', teamId: 'local', sessionId, ...work } });
  const later = { createdAt: new Date(Date.now() + 1_000) };
  await db().reconstruction.updateMany({ where: { engine: currentEngine() }, data: later });
  expect(await loadRenewal(sessionId)).toMatchObject({ state: 'waiting', cause: 'correction' });
});

test('where it cannot be computed again the earlier one stays, with the reason beside it', async () => {
  const sessionId = await sessionComputedBefore();
  const [source] = (await loadSources(sessionId)).filter(({ type }) => type === 'telemetry');
  const samples = path.join(samplesRoot(), source?.folder ?? '');
  await rename(samples, `${samples}-elsewhere`);
  await queueStaleReconstructions();
  await workOff();
  const reason = 'the samples of telemetry.csv are no longer in the data folder';
  const failed = await loadRenewal(sessionId);
  expect(failed).toMatchObject({ state: 'failed', reasons: [reason] });
  expect(renewalView(failed)).toMatchObject({ followedJobId: null });
  expect(renewalView(failed)?.text).toContain(`could not be computed again (${reason})`);
  expect(await titleShown(sessionId)).toBe('As computed before');
  // The next start tries again.
  await queueStaleReconstructions();
  expect(await loadRenewal(sessionId)).toMatchObject({ state: 'waiting' });
});

test('back at an engine that computed it once, that one is the newest again', async () => {
  const sessionId = await sessionComputedBefore();
  await queueStaleReconstructions();
  await workOff();
  const after = new Date(Date.now() + 1000);
  await db().reconstruction.updateMany({ where: { engine: EARLIER }, data: { createdAt: after } });
  expect(await titleShown(sessionId)).toBe('As computed before');
  await new Promise((resolve) => setTimeout(resolve, 1100));
  await queueStaleReconstructions();
  await workOff();
  expect(await titleShown(sessionId)).toBe('Small arrival');
  expect(await db().reconstruction.count()).toBe(2);
});

test('a session removed meanwhile ends the work with a sentence', async () => {
  const sessionId = await sessionComputedBefore();
  await queueStaleReconstructions();
  const job = await db().job.findFirstOrThrow({ where: { kind: 'reconstruct' } });
  await db().session.delete({ where: { id: sessionId } });
  await workOff();
  const issues = [{ message: 'The session was removed meanwhile.' }];
  expect(await readJob(job.id)).toMatchObject({ state: 'failed', result: { issues } });
});
