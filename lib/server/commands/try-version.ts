/** Asks how sessions would read with a draft of a plan or rule set; nothing of them changes. */
import { wakeQueue } from '../jobs/queue';
import { newId } from '../new-id';
import { readVersion } from '../read-version';
import { toJson } from '../rows';
import { trialInput } from '../trials/trial-input';
import { defineCommand } from './define-command';

export const tryVersion = defineCommand({
  name: 'try-version',
  input: trialInput,
  may: () => true,
  run: async (context, asked): Promise<Readonly<{ jobId: string; sha256: string }>> => {
    const { sha256 } = readVersion(asked.kind, asked.text);
    const jobId = newId();
    await context.tx.job.create({
      data: {
        id: jobId,
        teamId: context.actor.teamId,
        kind: 'trial',
        state: 'waiting',
        stage: 'Waiting for its turn',
        bytesTotal: BigInt(asked.sessionIds.length),
        input: toJson(asked),
        createdAt: context.now,
      },
      select: { id: true },
    });
    context.afterCommit(wakeQueue);
    return { jobId, sha256 };
  },
});
