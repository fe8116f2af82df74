/** Computes states at instants in a process of its own, one process at a time. */
import type { PollState } from '@/lib/core/reconstruction/poll-state';
import { runInChild } from '../jobs/run-in-child';
import type { PollAnswer, PollRequest } from './poll-messages';

/** Longer than the largest session within the limits takes, for the first instant and for each more. */
const LIMIT_MS = 60_000;
const MORE_MS = 10_000;

/** The one that is at work: the next waits for it, however many boards are asked for at once. */
const shared: typeof globalThis & { wakelinePollChild?: Promise<unknown> } = globalThis;

/** @returns one state an instant; throws where the child broke, ended early or took too long */
export function pollInChild(request: PollRequest): Promise<readonly PollState[]> {
  const asked = (shared.wakelinePollChild ?? Promise.resolve()).then(() =>
    runInChild<PollAnswer, readonly PollState[]>({
      entry: 'poll-child',
      request,
      take: ({ states }) => states,
      signal: AbortSignal.timeout(LIMIT_MS + MORE_MS * request.instants.length),
    }),
  );
  shared.wakelinePollChild = asked.catch(() => null);
  return asked;
}
