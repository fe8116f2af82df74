/** States at instants of a session as it is kept; samples are read once for all of them. */
import type { PollState } from '@/lib/core/reconstruction/poll-state';
import { stateAtPoll } from '@/lib/core/reconstruction/state-at-poll';
import { fromStored } from '../jobs/stored-input';
import type { PollRequest } from './poll-messages';

/** @returns one state an instant, in their order */
export async function statesOfStored({
  stored,
  samplesRoot,
  instants,
}: PollRequest): Promise<readonly PollState[]> {
  if (instants.length === 0) return [];
  // What the flight is held against later says nothing of what was known.
  const { simulations: _, runSessions: __, ...flown } = stored;
  const input = await fromStored(flown, samplesRoot);
  return instants.map((atS) => stateAtPoll(input, atS));
}
