/** Whether what is shown of a session lags behind the program or behind a correction, and what is done about it. */
import { cache } from 'react';
import { localActor } from '../actor';
import { db } from '../db';
import { currentEngine } from '../jobs/built';
import { readJob } from './load-job';

export type Renewal = Readonly<{
  /** Another version of the program, or a correction that is not in what is shown. */
  cause: 'engine' | 'correction';
  /** `none`: it is asked for at the next start. */
  state: 'none' | 'waiting' | 'running' | 'failed';
  jobId: string | null;
  /** Sentences that say why it failed. */
  reasons: readonly string[];
}>;

/** @returns null where the newest reconstruction is of the present version and all corrections */
export const loadRenewal = cache(async (sessionId: string): Promise<Renewal | null> => {
  const { teamId } = localActor();
  const newest = await db().reconstruction.findFirst({
    where: { sessionId, session: { teamId } },
    orderBy: { createdAt: 'desc' },
    select: { engine: true, createdAt: true },
  });
  if (newest === null) return null;
  const cause = newest.engine === currentEngine() ? 'correction' : 'engine';
  const row = await db().job.findFirst({
    where: { sessionId, teamId, kind: 'reconstruct' },
    orderBy: { createdAt: 'desc' },
    select: { id: true },
  });
  const job = row === null ? null : await readJob(row.id);
  const isOver = job === null || job.state === 'done';
  // One that waits behind another is older than what that one computes, and has more to compute in.
  const isGoing = job?.state === 'waiting' || job?.state === 'running';
  const isOld = !isGoing && (isOver || job.createdAtIso <= newest.createdAt.toISOString());
  if (cause === 'correction' && isOld) return null;
  if (isOver) return { cause, state: 'none', jobId: null, reasons: [] };
  const state = job.state === 'cancelled' ? 'failed' : job.state;
  const reasons = (job.result?.issues ?? []).map(({ message }) => message);
  return { cause, state, jobId: job.id, reasons };
});
