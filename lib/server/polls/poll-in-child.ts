/** Computes the state at an instant in a process of its own. */
import type { PollState } from '@/lib/core/reconstruction/poll-state';
import { runInChild } from '../jobs/run-in-child';
import type { PollAnswer, PollRequest } from './poll-messages';

/** Longer than the largest session within the limits takes. */
const LIMIT_MS = 60_000;

/** @returns the state; throws where the child broke, ended early or took too long */
export function pollInChild(request: PollRequest): Promise<PollState> {
  return runInChild<PollAnswer, PollState>({
    entry: 'poll-child',
    request,
    take: ({ state }) => state,
    signal: AbortSignal.timeout(LIMIT_MS),
  });
}
