/** What was known at an instant of a session. */
import type { PollState } from '@/lib/core/reconstruction/poll-state';
import { awaitStates } from '../polls/known-states';

/**
 * The state of every rule at an instant, from real-time sources received by then alone.
 *
 * @param atS session time, s
 * @returns null where there is no such session, or where it could not be computed; the log says why
 */
export async function loadPollState(sessionId: string, atS: number): Promise<PollState | null> {
  return (await awaitStates(sessionId, [atS])).get(atS) ?? null;
}
