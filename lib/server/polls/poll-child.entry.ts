/** The process that computes what was known at an instant: samples in, one state out. */
import { stateAtPoll } from '@/lib/core/reconstruction/state-at-poll';
import { answerParent } from '../jobs/answer-parent';
import { fromStored } from '../jobs/stored-input';
import type { PollAnswer, PollRequest } from './poll-messages';

answerParent(async ({ stored, samplesRoot, atS }: PollRequest): Promise<PollAnswer> => {
  const input = await fromStored(stored, samplesRoot);
  return { kind: 'done', state: stateAtPoll(input, atS) };
});
