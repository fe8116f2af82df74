/** The queue when the database refuses, and the order in which it takes jobs. */
import { afterEach, expect, test } from 'vitest';
import { localActor } from '@/lib/server/actor';
import { db } from '@/lib/server/db';
import { startQueue, stopQueue } from '@/lib/server/jobs/queue';
import { newId } from '@/lib/server/new-id';
import { readJob } from '@/lib/server/queries/load-job';
import { freshDataDir } from '../support/data-dir';

freshDataDir();
afterEach(() => stopQueue());

async function addJob(kind: string, input: object): Promise<string> {
  const row = { id: newId(), teamId: localActor().teamId, kind, state: 'waiting', stage: '' };
  await db().job.create({ data: { ...row, input: JSON.stringify(input) } });
  return row.id;
}

const stateOf = async (jobId: string): Promise<string | undefined> => (await readJob(jobId))?.state;

test('an end that could not be written is written as soon as the database takes it', async () => {
  await db().$executeRawUnsafe(
    `CREATE TRIGGER refuse BEFORE UPDATE OF endedAt ON Job BEGIN SELECT RAISE(ABORT, 'full'); END`,
  );
  const first = await addJob('reconstruct', { sessionId: 'none' });
  const second = await addJob('reconstruct', { sessionId: 'none' });
  startQueue();
  await expect.poll(() => stateOf(first), { interval: 20 }).toBe('running');
  await new Promise((resolve) => setTimeout(resolve, 200));
  expect([await stateOf(first), await stateOf(second)]).toEqual(['running', 'waiting']);
  await db().$executeRawUnsafe('DROP TRIGGER refuse');
  await expect.poll(() => stateOf(second)).toBe('failed');
  expect(await readJob(first)).toMatchObject({
    state: 'failed',
    result: { issues: [{ message: 'The session was removed meanwhile.' }] },
  });
});

test('the queue that could not take a job looks again by itself', async () => {
  await db().$executeRawUnsafe(
    `CREATE TRIGGER refuse BEFORE UPDATE OF attempt ON Job BEGIN SELECT RAISE(ABORT, 'full'); END`,
  );
  const jobId = await addJob('reconstruct', { sessionId: 'none' });
  startQueue();
  await new Promise((resolve) => setTimeout(resolve, 200));
  expect(await stateOf(jobId)).toBe('waiting');
  await db().$executeRawUnsafe('DROP TRIGGER refuse');
  await expect.poll(() => stateOf(jobId)).toBe('failed');
});

test('what a person waits for goes before what the program asks of itself', async () => {
  const own = await addJob('reconstruct', { sessionId: 'none' });
  const asked = await addJob('import', { uploadId: newId() });
  startQueue();
  await expect.poll(() => stateOf(own)).toBe('failed');
  const [first, second] = [await readJob(asked), await readJob(own)];
  expect(first?.state).toBe('failed');
  expect((first?.endedAtIso ?? 'z') <= (second?.startedAtIso ?? '')).toBe(true);
});
