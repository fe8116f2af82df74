/**
 * Has a session read with another version of its plan or rule set. Until a person says so it keeps
 * the one it was reconstructed with; going back is the same act. What was published stays.
 */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { wakeQueue } from '../jobs/queue';
import { queueReconstruction } from '../jobs/queue-reconstruction';
import { newId } from '../new-id';
import { versionedKind } from '../trials/trial-input';
import { versionTable } from '../version-table';
import { reasonInput } from './correction-input';
import { defineCommand } from './define-command';
import { sessionVersion } from './session-version';

const input = z.object({
  sessionId: z.string().min(1),
  /** Of the session's row. */
  version: z.int(),
  kind: versionedKind,
  versionId: z.string().min(1),
  reason: reasonInput,
});

export const putInUse = defineCommand({
  name: 'put-in-use',
  input,
  may: () => true,
  version: sessionVersion,
  run: async (context, asked): Promise<Readonly<{ sessionId: string; jobId: string }>> => {
    const { tx, actor, now } = context;
    const { sessionId, kind, versionId, reason } = asked;
    const where = { id: versionId, teamId: actor.teamId };
    const version = await versionTable(tx, kind).findFirst({ where, select: { number: true } });
    if (version === null) throw new DomainError('no-such-version', 'This version is not there.');
    const session = await tx.session.findUniqueOrThrow({
      where: { id: sessionId },
      select: { planVersionId: true, ruleSetVersionId: true },
    });
    const fromVersionId = kind === 'plan' ? session.planVersionId : session.ruleSetVersionId;
    if (fromVersionId === versionId) {
      const message = `The session uses version ${version.number} already.`;
      throw new DomainError('used-already', message);
    }
    const column = kind === 'plan' ? 'planVersionId' : 'ruleSetVersionId';
    await tx.session.update({
      where: { id: sessionId },
      data: { [column]: versionId, version: { increment: 1 } },
      select: { id: true },
    });
    const use = { sessionId, kind, fromVersionId, toVersionId: versionId, reason };
    await tx.versionUse.create({
      data: { id: newId(), ...use, author: actor.name, createdAt: now },
      select: { id: true },
    });
    const jobId = await queueReconstruction(context, sessionId);
    context.afterCommit(wakeQueue);
    return { sessionId, jobId };
  },
});
