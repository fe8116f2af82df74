/** Work that waits or runs while somebody takes away what it is about. */
import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { localActor } from '@/lib/server/actor';
import { cancelJob } from '@/lib/server/commands/cancel-job';
import { describeUpload } from '@/lib/server/commands/describe-upload';
import { removeSession } from '@/lib/server/commands/remove-session';
import { replaceFile } from '@/lib/server/commands/replace-file';
import { startImport } from '@/lib/server/commands/start-import';
import { db } from '@/lib/server/db';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { newId } from '@/lib/server/new-id';
import { loadDescription } from '@/lib/server/queries/load-description';
import { readJob } from '@/lib/server/queries/load-job';
import { runCommand } from '@/lib/server/run-command';
import { removeUpload, uploadFolder } from '@/lib/server/uploads/receive-file';
import { sketchUpload } from '@/lib/server/uploads/upload-sketch';
import { addSession } from '../support/add-session';
import { freshDataDir } from '../support/data-dir';
import { sendFiles } from '../support/upload';

freshDataDir();

const LOG = 'WEBVTT\n\n00:00:01.000 --> 00:00:02.000\nrange forty metres\n';
const sendLog = (): string => sendFiles((files) => writeFileSync(path.join(files, 'l.vtt'), LOG));

/** A replacement that waits: nobody runs the queue. */
async function waitingReplacement(): Promise<Readonly<{ jobId: string; uploadId: string }>> {
  const uploadId = sendLog();
  const input = { sessionId: 's1', version: 1, file: 'l.vtt', uploadId };
  const asked = await runCommand(replaceFile, input);
  if (!asked.ok) throw new Error(asked.message);
  return { uploadId, ...asked.data };
}

test('a replacement that is cancelled while it waits takes its upload along', async () => {
  await addSession('s1');
  const { jobId, uploadId } = await waitingReplacement();
  expect(await runCommand(startImport, { uploadId })).toMatchObject({ code: 'upload-in-use' });
  expect(await runCommand(cancelJob, { jobId })).toMatchObject({ ok: true });
  expect(existsSync(uploadFolder(uploadId))).toBe(false);
});

test('a session that is removed ends the work on it', async () => {
  await addSession('s1');
  const { jobId, uploadId } = await waitingReplacement();
  expect(await runCommand(removeSession, { sessionId: 's1', version: 1 })).toMatchObject({
    ok: true,
  });
  expect((await readJob(jobId))?.state).toBe('cancelled');
  expect(existsSync(uploadFolder(uploadId))).toBe(false);
});

test('a replacement whose upload is gone is refused, and says so when it goes later', async () => {
  await addSession('s1');
  const gone = { sessionId: 's1', version: 1, file: 'l.vtt', uploadId: newId() };
  expect(await runCommand(replaceFile, gone)).toMatchObject({ code: 'no-such-upload' });
  const { jobId, uploadId } = await waitingReplacement();
  await removeUpload(uploadId);
  startQueue();
  await expect.poll(async () => (await readJob(jobId))?.state, { interval: 20 }).toBe('failed');
  await stopQueue();
  expect((await readJob(jobId))?.result?.issues.map(({ code }) => code)).toEqual([
    'no-such-upload',
  ]);
});

async function described(uploadId: string) {
  await sketchUpload(uploadFolder(uploadId), 'files');
  const found = await loadDescription(uploadId);
  if (found === null) throw new Error('nothing to describe');
  const said = { title: 'By hand', zero: '2025-06-15T15:06:40Z' };
  return { uploadId, description: { ...found.proposal.description, ...said } };
}

test('described several times at once it is one import, and one session.yaml is left', async () => {
  const input = await described(sendLog());
  const asked = await Promise.all([1, 2, 3].map(() => runCommand(describeUpload, input)));
  const jobs = await db().job.findMany({ where: { teamId: localActor().teamId } });
  expect(asked.map((each) => (each.ok ? each.data.jobId : each.code))).toEqual(
    Array.from({ length: 3 }, () => jobs[0]?.id),
  );
  expect(jobs).toHaveLength(1);
  expect(readdirSync(uploadFolder(input.uploadId)).sort()).toEqual(['files', 'sketch.json']);
  expect(readdirSync(path.join(uploadFolder(input.uploadId), 'files')).sort()).toEqual([
    'l.vtt',
    'session.yaml',
  ]);
});

test('a folder called session.yaml among the files is refused in words', async () => {
  const uploadId = sendLog();
  const input = await described(uploadId);
  const folder = path.join(uploadFolder(uploadId), 'files', 'session.yaml');
  mkdirSync(folder);
  writeFileSync(path.join(folder, 'x.csv'), 'a,b\n1,2\n');
  expect(await runCommand(describeUpload, input)).toMatchObject({
    ok: false,
    code: 'session-file-is-folder',
  });
  // What was doubted stands beside the files until the next description takes its place.
  expect(readdirSync(uploadFolder(uploadId)).sort()).toEqual(['files', 'sketch.json']);
});
