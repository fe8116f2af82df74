/** How a job ends: the row that says so, and the words for work that stopped by itself. */
import { db, type Transaction } from '../db';
import { toJson } from '../rows';
import { brokenOff, failedWith, type JobContext, type JobOutcome } from './job-runner';

export type RunnableKind = 'import' | 'replace' | 'reconstruct' | 'demo' | 'trial';

/** A process that does the work of a job stopped without an answer. */
export class EndedEarly extends Error {
  constructor(readonly how: string) {
    super(`a process of the job ended early (${how})`);
  }
}

const LOG = 'the log of the server says why';

const WORDS: Readonly<Record<RunnableKind, string>> = {
  import: `The import stopped because of a fault of the program. Nothing of it was kept, and your files are as they were; ${LOG}.`,
  replace: `The replacement stopped because of a fault of the program. The session is as it was; ${LOG}.`,
  reconstruct: `The reconstruction could not be computed again from what is kept of the files; ${LOG}.`,
  trial: `The sessions could not be read with the draft; nothing was changed, and ${LOG}.`,
  demo: `The demo could not be loaded, and nothing of it was kept; ${LOG}.`,
};

/** The outcome of work that threw. */
export function outcomeOfFault(kind: RunnableKind, error: unknown): JobOutcome {
  if (!(error instanceof EndedEarly)) return failedWith([brokenOff(WORDS[kind])]);
  const message = `The process that did the work was ended from outside (${error.how}), as happens when memory runs out. Nothing half done was kept: try again with more memory free.`;
  return failedWith([brokenOff(message)]);
}

/** The last moment at which a job can be cancelled is inside its transaction. */
export async function refuseIfCancelled(tx: Transaction, context: JobContext): Promise<void> {
  context.signal.throwIfAborted();
  const where = { id: context.jobId };
  const job = await tx.job.findUniqueOrThrow({ where, select: { cancelRequested: true } });
  if (job.cancelRequested) throw new DOMException('cancelled', 'AbortError');
}

/**
 * Ends the row, unless the job's own transaction already did.
 *
 * @param end null for work that was cancelled
 * @returns the state in which the row is now; throws when it cannot be written
 */
export async function writeJobEnd(jobId: string, end: JobOutcome | null): Promise<string> {
  const state = end?.state ?? 'cancelled';
  const result = end?.result ?? null;
  const sessionId = result?.sessionId ?? null;
  const { count } = await db().job.updateMany({
    where: { id: jobId, state: 'running' },
    data: {
      state,
      stage: '',
      endedAt: new Date(),
      result: result === null ? null : toJson(result),
      // A job that was about a session from the start goes on naming it.
      ...(sessionId === null ? {} : { sessionId }),
    },
  });
  if (count > 0) return state;
  const row = await db().job.findUnique({ where: { id: jobId }, select: { state: true } });
  return row?.state ?? state;
}
