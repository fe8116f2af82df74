/** What is sent to the process that computes the state at an instant, and what comes back. */
import type { PollState } from '@/lib/core/reconstruction/poll-state';
import type { Broken } from '../jobs/child-answer';
import type { StoredInput } from '../jobs/stored-input';

export type PollRequest = Readonly<{ stored: StoredInput; samplesRoot: string; atS: number }>;

export type PollAnswer = Readonly<{ kind: 'done'; state: PollState }> | Broken;
