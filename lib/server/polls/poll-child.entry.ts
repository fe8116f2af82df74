/** The process that computes what was known at some instants: samples in, a state each out. */
import { answerParent } from '../jobs/answer-parent';
import type { PollAnswer, PollRequest } from './poll-messages';
import { statesOfStored } from './states-of-stored';

answerParent(async (request: PollRequest): Promise<PollAnswer> => {
  return { kind: 'done', states: await statesOfStored(request) };
});
