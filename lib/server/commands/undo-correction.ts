/** Takes a correction back; it stays on record with who undid it. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { wakeQueue } from '../jobs/queue';
import { queueReconstruction } from '../jobs/queue-reconstruction';
import { defineCommand, type VersionCheck } from './define-command';

const input = z.object({ id: z.string().min(1), version: z.number().int() });

const version: VersionCheck<z.infer<typeof input>> = {
  expected: ({ version }) => version,
  load: async ({ tx, actor }, { id }) => {
    const row = await tx.correction.findFirst({
      where: { id, session: { teamId: actor.teamId } },
      select: { version: true, undoneBy: true },
    });
    return row === null ? null : { version: row.version, value: { undoneBy: row.undoneBy } };
  },
};

/** What undoing and taking it back share: a correction by its id, at the version that was seen. */
export const undoable = { input, may: () => true, version };

export const undoCorrection = defineCommand({
  name: 'undo-correction',
  ...undoable,
  run: async (context, { id }): Promise<Readonly<{ id: string; jobId: string }>> => {
    const where = { id };
    const select = { sessionId: true, undoneAt: true } as const;
    const row = await context.tx.correction.findUniqueOrThrow({ where, select });
    if (row.undoneAt !== null) throw new DomainError('undone-already', 'It is undone already.');
    await context.tx.correction.update({
      where,
      data: { undoneAt: context.now, undoneBy: context.actor.name, version: { increment: 1 } },
      select: { id: true },
    });
    const jobId = await queueReconstruction(context, row.sessionId);
    context.afterCommit(wakeQueue);
    return { id, jobId };
  },
});
