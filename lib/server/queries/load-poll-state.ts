/** What was known at an instant of a session. */
import type { PollState } from '@/lib/core/reconstruction/poll-state';
import { localActor } from '../actor';
import { samplesRoot } from '../data-folders';
import { db } from '../db';
import { currentEngine } from '../jobs/built';
import { withCorrections } from '../jobs/stored-input';
import { readUsedInput } from '../jobs/used-input';
import { logLine } from '../log-line';
import { pollInChild } from '../polls/poll-in-child';
import { loadWordsSince } from './load-corrections';

/** So many states are kept in memory; going back and forth between polls asks for few. */
const KEPT = 24;
const kept = new Map<string, Promise<PollState>>();

function remember(key: string, compute: () => Promise<PollState>): Promise<PollState> {
  const known = kept.get(key);
  if (known !== undefined) return known;
  const asked = compute();
  kept.set(key, asked);
  // What failed is tried again when it is asked for again.
  asked.catch(() => kept.delete(key));
  const oldest = kept.keys().next().value;
  if (kept.size > KEPT && oldest !== undefined) kept.delete(oldest);
  return asked;
}

/**
 * The state of every rule at an instant, from real-time sources received by then alone.
 *
 * @param atS session time, s
 * @returns null where there is no such session, or where it could not be computed; the log says why
 */
export async function loadPollState(sessionId: string, atS: number): Promise<PollState | null> {
  const edition = await db().session.findFirst({
    where: { id: sessionId, teamId: localActor().teamId },
    select: { id: true, filesNumber: true, planVersionId: true, ruleSetVersionId: true },
  });
  if (edition === null) return null;
  const said = await loadWordsSince(sessionId);
  const key = JSON.stringify([edition, currentEngine(), said, atS]);
  try {
    return await remember(key, async () => {
      const stored = withCorrections(await readUsedInput(edition), said);
      return pollInChild({ stored, samplesRoot: samplesRoot(), atS });
    });
  } catch (error) {
    logLine('poll-not-computed', { session: sessionId, atS, fault: String(error) });
    return null;
  }
}
