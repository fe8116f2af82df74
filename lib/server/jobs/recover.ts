/** At start: mends what the last run left unfinished, and says in one log line each what it was. */
import { localActor } from '../actor';
import { db, TRANSACTION_LIMITS } from '../db';
import { logLine } from '../log-line';
import { newId } from '../new-id';
import { toJson } from '../rows';
import { pruneTrials } from '../trials/prune-trials';
import { currentEngine } from './built';
import { brokenOff, failedWith } from './job-runner';
import { queueReconstruction } from './queue-reconstruction';
import { sweepPublished, sweepRecordings, sweepStore, sweepUploads } from './sweep';

/** Work that can be done again from what is kept. An import cannot: its upload may be half moved. */
const REPEATABLE = new Set(['reconstruct', 'demo', 'trial']);
const MAX_ATTEMPTS = 3;

export async function recover(): Promise<void> {
  await mendJobs();
  await pruneTrials();
  const swept = [
    ...(await sweepUploads({ idleMs: 0 })),
    ...(await sweepStore()),
    ...(await sweepRecordings({ idleMs: 0 })),
    ...(await sweepPublished()),
  ];
  for (const { place, folders } of swept) {
    logLine('mended', { what: 'unfinished folders removed', place, count: folders.length });
  }
}

async function mendJobs(): Promise<void> {
  const left = await db().job.findMany({
    where: { state: 'running' },
    select: { id: true, kind: true, attempt: true, cancelRequested: true },
  });
  for (const job of left) {
    const again = REPEATABLE.has(job.kind) && job.attempt < MAX_ATTEMPTS && !job.cancelRequested;
    if (again) await db().job.update({ where: { id: job.id }, data: { state: 'waiting' } });
    else await failJob(job.id);
    const what = again ? 'work is done again' : 'work marked as broken off';
    logLine('mended', { what, job: job.id, kind: job.kind });
  }
}

async function failJob(jobId: string): Promise<void> {
  const message = 'The program stopped during this work; nothing of it was kept.';
  const { state, result } = failedWith([brokenOff(message)]);
  await db().job.update({
    where: { id: jobId },
    data: { state, stage: '', result: toJson(result), endedAt: new Date() },
    select: { id: true },
  });
}

/** Asks for a new reconstruction of each session whose newest one another engine computed. */
export async function queueStaleReconstructions(): Promise<void> {
  const { teamId } = localActor();
  const engine = currentEngine();
  const sessions = await db().session.findMany({
    where: { teamId },
    select: {
      id: true,
      reconstructions: { orderBy: { createdAt: 'desc' }, take: 1, select: { engine: true } },
      jobs: { where: { kind: 'reconstruct', state: 'waiting' }, select: { id: true } },
    },
  });
  for (const session of sessions) {
    if (session.reconstructions[0]?.engine === engine || session.jobs.length > 0) continue;
    await db().$transaction(
      (tx) => queueReconstruction({ tx, actor: localActor() }, session.id),
      TRANSACTION_LIMITS,
    );
  }
}

/** The first start asks for the demo; its job's row remembers that it was loaded, or removed since. */
export async function queueDemoOnce(): Promise<void> {
  const { teamId } = localActor();
  const where = { teamId, kind: 'demo', state: { not: 'failed' } };
  const known = await db().job.findFirst({ where, select: { id: true } });
  if (known !== null) return;
  await db().job.create({
    data: { id: newId(), teamId, kind: 'demo', state: 'waiting', stage: 'Waiting', input: '{}' },
    select: { id: true },
  });
}
