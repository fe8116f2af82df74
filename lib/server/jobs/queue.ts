/**
 * The queue: takes waiting jobs from their table and runs them, one at a time in each lane. It runs
 * in the server process only; elsewhere waking it does nothing and the row waits.
 */
import { localActor } from '../actor';
import { db, TRANSACTION_LIMITS } from '../db';
import { logLine } from '../log-line';
import type { JobKind } from '../queries/load-job';
import { toJson } from '../rows';
import { progressWriter } from './job-progress';
import { brokenOff, failedWith, type JobOutcome, type JobRunner } from './job-runner';
import { runDemo } from './run-demo';
import { runImport } from './run-import';
import { runReconstruct } from './run-reconstruct';
import { sweepStore, sweepUploads } from './sweep';

const RUNNERS = {
  import: runImport,
  reconstruct: runReconstruct,
  demo: runDemo,
} satisfies Partial<Record<JobKind, JobRunner>>;

/** An upload that a closed page left behind; a slow one adds files more often than this. */
const ABANDONED_AFTER_MS = 24 * 3_600_000;

type RunnableKind = keyof typeof RUNNERS;

const KINDS: readonly string[] = Object.keys(RUNNERS);

type ClaimedJob = Readonly<{ id: string; kind: RunnableKind; input: string; attempt: number }>;

type Queue = {
  isRunning: boolean;
  current: { jobId: string; controller: AbortController } | null;
  pumping: Promise<void> | null;
  /** Something was removed or broken off: look for folders that nothing names, between jobs. */
  isSweepWanted: boolean;
};

// The web framework may load this module more than once in a process; the queue must stay one.
const shared: typeof globalThis & { wakelineQueue?: Queue } = globalThis;

function queue(): Queue {
  shared.wakelineQueue ??= { isRunning: false, current: null, pumping: null, isSweepWanted: false };
  return shared.wakelineQueue;
}

/** From now on jobs are run in this process. */
export function startQueue(): void {
  queue().isRunning = true;
  wakeQueue();
}

/**
 * Takes no further job; resolves when the one at hand has ended.
 *
 * @internal for tests: a server's queue ends with its process and is mended at the next start
 */
export async function stopQueue(): Promise<void> {
  queue().isRunning = false;
  await queue().pumping;
}

/** Has folders that nothing names any more removed as soon as no job is writing any. */
export function requestSweep(): void {
  queue().isSweepWanted = true;
  wakeQueue();
}

/** Says that there may be a waiting job. */
export function wakeQueue(): void {
  const state = queue();
  if (!state.isRunning || state.pumping !== null) return;
  state.pumping = pump()
    .catch((error: unknown) => logLine('queue-broken', { fault: String(error) }))
    .finally(() => {
      state.pumping = null;
    });
}

/** Breaks off a job of this process, if it is the one that runs. */
export function abortJob(jobId: string): void {
  const { current } = queue();
  if (current?.jobId === jobId) {
    current.controller.abort(new DOMException('cancelled', 'AbortError'));
  }
}

async function pump(): Promise<void> {
  while (queue().isRunning) {
    if (queue().isSweepWanted) {
      queue().isSweepWanted = false;
      await sweepStore();
      await sweepUploads({ idleMs: ABANDONED_AFTER_MS });
    }
    const job = await claimJob();
    if (job === null && queue().isSweepWanted) continue;
    if (job === null) return;
    const controller = new AbortController();
    queue().current = { jobId: job.id, controller };
    try {
      await runJob(job, controller.signal);
    } finally {
      queue().current = null;
    }
  }
}

async function claimJob(): Promise<ClaimedJob | null> {
  return db().$transaction(async (tx) => {
    const row = await tx.job.findFirst({
      where: { state: 'waiting', kind: { in: [...KINDS] } },
      orderBy: { createdAt: 'asc' },
      select: { id: true, kind: true, input: true, attempt: true },
    });
    if (row === null || !isRunnable(row.kind)) return null;
    const attempt = row.attempt + 1;
    const data = { state: 'running', startedAt: new Date(), attempt };
    await tx.job.update({ where: { id: row.id }, data, select: { id: true } });
    return { id: row.id, kind: row.kind, input: row.input, attempt };
  }, TRANSACTION_LIMITS);
}

function isRunnable(kind: string): kind is RunnableKind {
  return KINDS.includes(kind);
}

async function runJob(job: ClaimedJob, signal: AbortSignal): Promise<void> {
  const startedMs = performance.now();
  const progress = progressWriter(job.id);
  const context = { jobId: job.id, actor: localActor(), input: job.input, signal };
  let end: JobOutcome | null = null;
  let fault = '';
  try {
    end = await RUNNERS[job.kind]({ ...context, report: progress.report });
  } catch (error) {
    if (!signal.aborted && !isAbort(error)) {
      fault = error instanceof Error ? (error.stack ?? error.message) : String(error);
      const message = 'The work broke off unexpectedly; nothing of it was kept. The log says why.';
      end = failedWith([brokenOff(message)]);
    }
  }
  await progress.close();
  const state = await endJob(job.id, end);
  queue().isSweepWanted = true;
  logLine('job', {
    job: job.id,
    kind: job.kind,
    state,
    attempt: job.attempt,
    issues: end?.result.issues.length ?? 0,
    ms: Math.round(performance.now() - startedMs),
    ...(fault === '' ? {} : { fault }),
  });
}

function isAbort(error: unknown): boolean {
  return error instanceof DOMException && error.name === 'AbortError';
}

/** Ends the row, unless the job's own transaction already did. */
async function endJob(jobId: string, end: JobOutcome | null): Promise<string> {
  const state = end?.state ?? 'cancelled';
  const result = end?.result ?? null;
  const { count } = await db().job.updateMany({
    where: { id: jobId, state: 'running' },
    data: {
      state,
      stage: '',
      endedAt: new Date(),
      result: result === null ? null : toJson(result),
      sessionId: result?.sessionId ?? null,
    },
  });
  if (count > 0) return state;
  const row = await db().job.findUnique({ where: { id: jobId }, select: { state: true } });
  return row?.state ?? state;
}
