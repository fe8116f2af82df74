/** What is sent to the process that computes states at instants, and what comes back. */
import type { PollState } from '@/lib/core/reconstruction/poll-state';
import type { Broken } from '../jobs/child-answer';
import type { StoredInput } from '../jobs/stored-input';

/** `instants`: session time, s. */
export type PollRequest = Readonly<{
  stored: StoredInput;
  samplesRoot: string;
  instants: readonly number[];
}>;

/** One state an instant, in their order. */
export type PollAnswer = Readonly<{ kind: 'done'; states: readonly PollState[] }> | Broken;
