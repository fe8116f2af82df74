import { setTimeout as sleep } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { localActor } from '@/lib/server/actor';
import { cancelJob } from '@/lib/server/commands/cancel-job';
import { db } from '@/lib/server/db';
import { jobEvents } from '@/lib/server/jobs/job-events';
import { progressWriter } from '@/lib/server/jobs/job-progress';
import { readJob } from '@/lib/server/queries/load-job';
import { runCommand } from '@/lib/server/run-command';
import { freshDataDir } from '../support/data-dir';

freshDataDir();

async function addJob(state: string): Promise<string> {
  const { teamId } = localActor();
  const data = { id: 'j1', teamId, kind: 'import', state, stage: '', input: '{"uploadId":"u"}' };
  return (await db().job.create({ data, select: { id: true } })).id;
}

async function textOf(stream: ReadableStream<Uint8Array>): Promise<string> {
  let text = '';
  const decoder = new TextDecoder();
  for await (const chunk of stream) text += decoder.decode(chunk, { stream: true });
  return text;
}

test('each change of a job is one event, and the stream ends with the job', async () => {
  const jobId = await addJob('running');
  const whole = textOf(jobEvents(jobId, AbortSignal.timeout(10_000)));
  await sleep(400);
  await db().job.update({ where: { id: jobId }, data: { stage: 'Reading a.csv', rowsDone: 7n } });
  await sleep(700);
  await db().job.update({ where: { id: jobId }, data: { state: 'done' } });
  const events = (await whole).split('\n\n').filter((block) => block.startsWith('event: job'));
  const jobs = events.map((block) => JSON.parse(block.replace(/^event: job\ndata: /, '')));
  expect(jobs.map((job) => [job.state, job.stage, job.rowsDone])).toEqual([
    ['running', '', 0],
    ['running', 'Reading a.csv', 7],
    ['done', 'Reading a.csv', 7],
  ]);
});

test('a reader who leaves ends the reading', async () => {
  const jobId = await addJob('running');
  const leaving = new AbortController();
  const reader = jobEvents(jobId, leaving.signal).getReader();
  await reader.read();
  await reader.cancel();
  leaving.abort();
  expect((await reader.read()).done).toBe(true);
});

test('progress is written at most four times a second, the last word included', async () => {
  const jobId = await addJob('running');
  const writer = progressWriter(jobId);
  const seen = new Set<number>();
  const untilMs = performance.now() + 1000;
  for (let rowsDone = 1; performance.now() < untilMs; rowsDone += 1) {
    writer.report({ stage: 'Reading a.csv', bytesDone: 0, bytesTotal: 0, rowsDone });
    seen.add((await readJob(jobId))?.rowsDone ?? -1);
    await sleep(5);
  }
  writer.report({ stage: 'Keeping the session', bytesDone: 3, bytesTotal: 3, rowsDone: 999_999 });
  await sleep(400);
  await writer.close();
  seen.delete(0);
  expect(seen.size).toBeGreaterThanOrEqual(2);
  expect(seen.size).toBeLessThanOrEqual(5);
  expect(await readJob(jobId)).toMatchObject({ stage: 'Keeping the session', rowsDone: 999_999 });
});

test('a waiting job is cancelled at once, an ended one cannot be', async () => {
  const jobId = await addJob('waiting');
  expect((await runCommand(cancelJob, { jobId })).ok).toBe(true);
  expect((await readJob(jobId))?.state).toBe('cancelled');
  expect(await runCommand(cancelJob, { jobId })).toMatchObject({ ok: false, code: 'job-over' });
  expect(await runCommand(cancelJob, { jobId: 'none' })).toMatchObject({ code: 'no-such-job' });
});
