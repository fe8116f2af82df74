/** Previews of plans and rule sets are not kept for ever: each holds its draft and what it came to. */
import { db } from '../db';
import { logLine } from '../log-line';

/** How long an ended preview is kept, and how many of the newest. Our own choice. */
export const TRIALS_KEPT = { days: 30, count: 100 } as const;

const DAY_MS = 24 * 3_600_000;
const ENDED = { kind: 'trial', state: { in: ['done', 'failed', 'cancelled'] } };

/**
 * Removes ended previews, with their drafts and results, that are older than is kept or beyond the
 * newest ones. One that waits or runs is never touched.
 *
 * @returns how many were removed
 */
export async function pruneTrials(): Promise<number> {
  const rows = await db().job.findMany({
    where: ENDED,
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    select: { id: true, createdAt: true },
  });
  const oldest = Date.now() - TRIALS_KEPT.days * DAY_MS;
  const ids = rows
    .filter(({ createdAt }, at) => at >= TRIALS_KEPT.count || createdAt.getTime() < oldest)
    .map(({ id }) => id);
  if (ids.length === 0) return 0;
  const { count } = await db().job.deleteMany({ where: { id: { in: ids }, ...ENDED } });
  logLine('previews-removed', { count });
  return count;
}
