/**
 * The queue: takes waiting jobs from their table and runs them, one at a time. It runs
 * in the server process only; elsewhere waking it does nothing and the row waits.
 */
import { localActor } from '../actor';
import { db, TRANSACTION_LIMITS } from '../db';
import { logLine } from '../log-line';
import { pruneTrials } from '../trials/prune-trials';
import { outcomeOfFault, type RunnableKind, writeJobEnd } from './job-end';
import { progressWriter } from './job-progress';
import type { JobOutcome, JobRunner } from './job-runner';
import { runDemo } from './run-demo';
import { runImport } from './run-import';
import { runReconstruct } from './run-reconstruct';
import { runReplace } from './run-replace';
import { runTrial } from './run-trial';
import { sweepRecordings, sweepStore, sweepUploads } from './sweep';

const RUNNERS = {
  import: runImport,
  replace: runReplace,
  reconstruct: runReconstruct,
  trial: runTrial,
  demo: runDemo,
} satisfies Record<RunnableKind, JobRunner>;

/** What a person looks on at comes first, what the program asks of itself last. */
const TURNS = [['trial'], ['import', 'replace', 'demo'], ['reconstruct']] as const;

/** An upload that a closed page left behind; a slow one adds files more often than this. */
const ABANDONED_AFTER_MS = 24 * 3_600_000;

/** After a failure of the database the queue looks again by itself. */
const RETRY_AFTER_MS = 1_000;

type ClaimedJob = Readonly<{ id: string; kind: RunnableKind; input: string; attempt: number }>;

type Queue = {
  isRunning: boolean;
  current: { jobId: string; controller: AbortController } | null;
  pumping: Promise<void> | null;
  /** Ends of jobs whose rows could not be written: that comes before any other job. */
  unwritten: Readonly<{ jobId: string; end: JobOutcome | null }>[];
  /** Something was removed or broken off: look for folders that nothing names, between jobs. */
  isSweepWanted: boolean;
};

// The web framework may load this module more than once in a process; the queue must stay one.
const shared: typeof globalThis & { wakelineQueue?: Queue } = globalThis;

function queue(): Queue {
  shared.wakelineQueue ??= {
    isRunning: false,
    current: null,
    pumping: null,
    unwritten: [],
    isSweepWanted: false,
  };
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
    .catch((error: unknown) => {
      logLine('queue-broken', { fault: String(error) });
      setTimeout(wakeQueue, RETRY_AFTER_MS).unref();
    })
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
    await writeEnds();
    if (queue().isSweepWanted) {
      queue().isSweepWanted = false;
      await sweepStore();
      await sweepRecordings({ idleMs: ABANDONED_AFTER_MS });
      await sweepUploads({ idleMs: ABANDONED_AFTER_MS });
      await pruneTrials();
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

/** Writes what a failure of the database left unsaid; throws while it still fails. */
async function writeEnds(): Promise<void> {
  const { unwritten } = queue();
  for (let first = unwritten[0]; first !== undefined; first = unwritten[0]) {
    const state = await writeJobEnd(first.jobId, first.end);
    unwritten.shift();
    logLine('mended', { what: 'the end of a job is written after all', job: first.jobId, state });
  }
}

async function claimJob(): Promise<ClaimedJob | null> {
  return db().$transaction(async (tx) => {
    for (const kinds of TURNS) {
      const row = await tx.job.findFirst({
        where: { state: 'waiting', kind: { in: [...kinds] } },
        orderBy: { createdAt: 'asc' },
        select: { id: true, kind: true, input: true, attempt: true },
      });
      const kind = kinds.find((each) => each === row?.kind);
      if (row === null || kind === undefined) continue;
      const attempt = row.attempt + 1;
      const data = { state: 'running', startedAt: new Date(), attempt };
      await tx.job.update({ where: { id: row.id }, data, select: { id: true } });
      return { ...row, kind, attempt };
    }
    return null;
  }, TRANSACTION_LIMITS);
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
      end = outcomeOfFault(job.kind, error);
    }
  }
  await progress.close();
  const state = await writeJobEnd(job.id, end).catch((error: unknown) => {
    queue().unwritten.push({ jobId: job.id, end });
    return `unwritten: ${String(error)}`;
  });
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
