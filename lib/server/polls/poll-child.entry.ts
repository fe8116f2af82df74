/** The process that computes what was known at an instant: samples in, one state out. */
import { stateAtPoll } from '@/lib/core/reconstruction/state-at-poll';
import { env } from '../env';
import { fromStored } from '../jobs/stored-input';
import { adoptLeapList } from '../leap-list';
import type { PollAnswer, PollRequest } from './poll-messages';

function answer(message: PollAnswer): void {
  process.send?.(message);
}

adoptLeapList(env().dataDir); // the server has said what became of it
process.on('disconnect', () => process.exit(1)); // the server is gone: nobody wants the answer
process.once('message', ({ stored, samplesRoot, atS }: PollRequest) => {
  fromStored(stored, samplesRoot).then(
    (input) => answer({ kind: 'done', state: stateAtPoll(input, atS) }),
    (error: unknown) =>
      answer({
        kind: 'broken',
        message: error instanceof Error ? (error.stack ?? error.message) : String(error),
      }),
  );
});
