/** The shape of long work: what a kind of job is given, and what it comes to. */
import type { Issue } from '@/lib/core/result';
import type { Actor } from '../actor';
import type { JobResult } from '../queries/load-job';
import type { JobProgress } from './import-messages';

export type JobContext = Readonly<{
  jobId: string;
  actor: Actor;
  /** JSON that was put into the job's row. */
  input: string;
  /** Aborted when somebody cancels the job or the server stops. */
  signal: AbortSignal;
  report: (progress: JobProgress) => void;
}>;

export type JobOutcome = Readonly<{ state: 'done' | 'failed'; result: JobResult }>;

/** Throws the signal's reason when it was cancelled; anything else thrown is a bug. */
export type JobRunner = (context: JobContext) => Promise<JobOutcome>;

/** The outcome of work that could not be done, with what is wrong. */
export function failedWith(issues: readonly Issue[]): JobOutcome {
  return { state: 'failed', result: { sessionId: null, wasThere: false, issues } };
}

/** The outcome of work on a session that is there no more. */
export function sessionGone(): JobOutcome {
  return failedWith([brokenOff('The session was removed meanwhile.')]);
}

/** The issue of work that broke off by itself. */
export function brokenOff(message: string): Issue {
  return { code: 'broken-off', severity: 'error', message };
}
