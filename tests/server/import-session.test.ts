import { cpSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import { zipSync } from 'fflate';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { cancelJob } from '@/lib/server/commands/cancel-job';
import { removeSession } from '@/lib/server/commands/remove-session';
import { startImport } from '@/lib/server/commands/start-import';
import { samplesRoot, sessionsRoot, uploadsRoot } from '@/lib/server/data-folders';
import { db } from '@/lib/server/db';
import { requestSweep, startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { newId } from '@/lib/server/new-id';
import { type JobView, readJob } from '@/lib/server/queries/load-job';
import { loadDerivedFolder, loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { loadSessionHeader } from '@/lib/server/queries/load-session-header';
import { loadSources } from '@/lib/server/queries/load-sources';
import { runCommand } from '@/lib/server/run-command';
import { uploadFolder } from '@/lib/server/uploads/receive-file';
import { freshDataDir } from '../support/data-dir';
import { folderOnDisk, smallSession } from '../support/small-session';
import { spokenLog } from '../support/spoken-log';

freshDataDir();

const shared = { folder: '' };
beforeAll(() => {
  shared.folder = folderOnDisk(smallSession(spokenLog()));
});
afterAll(() => rmSync(path.dirname(shared.folder), { recursive: true, force: true }));
beforeEach(() => startQueue());
afterEach(() => stopQueue());

/** Puts files where an upload would have put them and asks for the import. */
async function importing(put: (files: string) => void): Promise<string> {
  const uploadId = newId();
  const files = path.join(uploadFolder(uploadId), 'files');
  await mkdir(files, { recursive: true });
  put(files);
  const result = await runCommand(startImport, { uploadId });
  if (!result.ok) throw new Error(result.message);
  return result.data.jobId;
}

const asFolder = (files: string): void =>
  cpSync(shared.folder, path.join(files, 'flight'), { recursive: true });

async function ended(jobId: string): Promise<JobView> {
  return expect
    .poll(() => readJob(jobId))
    .toSatisfy((job: JobView | null) => job !== null && job.endedAtIso !== null)
    .then(() => readJob(jobId))
    .then((job) => job ?? Promise.reject(new Error('no such job')));
}

async function imported(put: (files: string) => void): Promise<JobView> {
  return ended(await importing(put));
}

const namesIn = (folder: string): string[] => (existsSync(folder) ? readdirSync(folder) : []);

/** Nothing of an import is left anywhere. */
async function expectNothingKept(): Promise<void> {
  requestSweep();
  await expect.poll(() => namesIn(samplesRoot())).toEqual([]);
  await expect.poll(() => namesIn(sessionsRoot())).toEqual([]);
  await expect.poll(() => namesIn(uploadsRoot())).toEqual([]);
  expect(await db().session.count()).toBe(0);
  expect(await db().planVersion.count()).toBe(0);
}

test('a session folder becomes a session, once; a changed plan makes another; each is removed whole', async () => {
  const job = await imported(asFolder);
  expect(job.result?.issues.filter((issue) => issue.severity === 'error')).toEqual([]);
  expect(job).toMatchObject({ state: 'done', result: { wasThere: false } });
  const sessionId = job.sessionId ?? '';
  expect(await loadSessionHeader(sessionId)).toMatchObject({ planNumber: 1, ruleSetNumber: 1 });
  const sources = await loadSources(sessionId);
  expect(sources.map((source) => [source.file, source.type])).toEqual([
    ['events.csv', 'events'],
    ['loop.vtt', 'events'],
    ['telemetry.csv', 'telemetry'],
  ]);
  const folder = sources.find((source) => source.type === 'telemetry')?.folder ?? '';
  expect(namesIn(path.join(samplesRoot(), folder))).toContain('data.parquet');
  const derived = (await loadDerivedFolder(sessionId)) ?? '';
  expect(namesIn(path.join(samplesRoot(), derived))).toContain('data.parquet');
  const reconstruction = await loadReconstruction(sessionId);
  expect(reconstruction?.session.title).toBe((await loadSessionHeader(sessionId))?.title);
  // One event; six things said.
  expect(await db().logEntry.count()).toBe(7);
  const kept = path.join(sessionsRoot(), sessionId, 'files');
  for (const name of namesIn(shared.folder)) {
    const original = readFileSync(path.join(shared.folder, name));
    expect(readFileSync(path.join(kept, name)).equals(original)).toBe(true);
  }
  await expect.poll(() => namesIn(uploadsRoot())).toEqual([]);

  // The same again, this time as a .zip.
  const content = Object.fromEntries(
    namesIn(shared.folder).map((name) => [name, readFileSync(path.join(shared.folder, name))]),
  );
  const second = await imported((files) =>
    writeFileSync(path.join(files, 'again.ZIP'), zipSync(content)),
  );
  expect(second).toMatchObject({
    state: 'done',
    sessionId,
    result: { wasThere: true },
  });
  expect(await db().session.count()).toBe(1);
  expect(namesIn(sessionsRoot())).toEqual([sessionId]);

  // Its rules are used again.
  const changed = await imported((files) => {
    cpSync(shared.folder, files, { recursive: true });
    const plan = path.join(files, 'plan.yaml');
    writeFileSync(plan, `${readFileSync(plan, 'utf8')}\n# reviewed\n`);
  });
  expect(await loadSessionHeader(changed.sessionId ?? '')).toMatchObject({
    planNumber: 2,
    ruleSetNumber: 1,
  });
  for (const id of [sessionId, changed.sessionId])
    expect((await runCommand(removeSession, { sessionId: id, version: 1 })).ok).toBe(true);
  await expectNothingKept();
});

test('without session.yaml the upload waits to be described, and no session is made', async () => {
  const job = await imported((files) => {
    asFolder(files);
    rmSync(path.join(files, 'flight', 'session.yaml'));
  });
  expect(job).toMatchObject({ state: 'done', result: { sessionId: null, issues: [] } });
  expect(namesIn(uploadsRoot())).toEqual([job.result?.describe]);
  expect(await db().session.count()).toBe(0);
  expect(namesIn(sessionsRoot())).toEqual([]);
});

test('each fault of a folder is one issue of the job, and nothing is kept', async () => {
  const job = await imported((files) => {
    cpSync(shared.folder, files, { recursive: true });
    rmSync(path.join(files, 'rules.yaml'));
    const plan = path.join(files, 'plan.yaml');
    writeFileSync(plan, readFileSync(plan, 'utf8').replace('hold_rate_mps', 'hold_rate_kmh'));
  });
  expect(job.state).toBe('failed');
  const issues = job.result?.issues ?? [];
  expect(issues.map((issue) => issue.file)).toContain('plan.yaml');
  // A missing file is the fault of the line that names it.
  const missing = issues.find(({ code }) => code === 'file-missing');
  expect(missing).toMatchObject({ file: 'session.yaml', keyPath: 'rules' });
  expect(missing?.message).toContain('rules.yaml');
  await expectNothingKept();
});

test('a cancelled import leaves nothing', async () => {
  const jobId = await importing(asFolder);
  await expect.poll(async () => (await readJob(jobId))?.state, { interval: 10 }).toBe('running');
  expect((await runCommand(cancelJob, { jobId })).ok).toBe(true);
  expect(await ended(jobId)).toMatchObject({ state: 'cancelled', sessionId: null });
  await expectNothingKept();
});

test('an import is cancelled while its reconstruction is computed, and the program lives on', async () => {
  for (const waitMs of [0, 200]) {
    const jobId = await importing(asFolder);
    const isThere = expect.poll(async () => (await readJob(jobId))?.stage, {
      interval: 5,
    });
    await isThere.toBe('Reconstructing the approach');
    await new Promise((resolve) => setTimeout(resolve, waitMs));
    await runCommand(cancelJob, { jobId });
    expect((await ended(jobId)).state).toBe('cancelled');
  }
  await expectNothingKept();
});

test('what is no upload is refused', async () => {
  expect(await runCommand(startImport, { uploadId: '../../etc' })).toMatchObject({
    code: 'invalid-input',
  });
  expect(await runCommand(startImport, { uploadId: newId() })).toMatchObject({
    code: 'no-such-upload',
  });
});
