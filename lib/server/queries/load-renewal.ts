/** Whether a session's reconstruction was made by another version of the numerics, and what is done about it. */
import { cache } from 'react';
import { localActor } from '../actor';
import { db } from '../db';
import { currentEngine } from '../jobs/built';
import { readJob } from './load-job';

export type Renewal = Readonly<{
  /** `none`: it is asked for at the next start. */
  state: 'none' | 'waiting' | 'running' | 'failed';
  jobId: string | null;
  /** Sentences that say why it failed. */
  reasons: readonly string[];
}>;

/** @returns null where the newest reconstruction is of the present version, or there is none at all */
export const loadRenewal = cache(async (sessionId: string): Promise<Renewal | null> => {
  const { teamId } = localActor();
  const newest = await db().reconstruction.findFirst({
    where: { sessionId, session: { teamId } },
    orderBy: { createdAt: 'desc' },
    select: { engine: true },
  });
  if (newest === null || newest.engine === currentEngine()) return null;
  const row = await db().job.findFirst({
    where: { sessionId, teamId, kind: 'reconstruct' },
    orderBy: { createdAt: 'desc' },
    select: { id: true },
  });
  const job = row === null ? null : await readJob(row.id);
  if (job === null || job.state === 'done') return { state: 'none', jobId: null, reasons: [] };
  const state = job.state === 'cancelled' ? 'failed' : job.state;
  const reasons = (job.result?.issues ?? []).map(({ message }) => message);
  return { state, jobId: job.id, reasons };
});
