/** Takes the undoing of a correction back: it counts again, at its old place among the others. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { wakeQueue } from '../jobs/queue';
import { queueReconstruction } from '../jobs/queue-reconstruction';
import { type CommandContext, defineCommand } from './define-command';
import { undoable } from './undo-correction';

type Row = Readonly<{ sessionId: string; kind: string; body: string }>;

const nameOf = (body: string): string =>
  z.looseObject({ name: z.string() }).parse(JSON.parse(body)).name;

/** Tasks are told apart by their names: one that was given anew meanwhile stays. */
async function requireOwnName({ tx }: CommandContext, { sessionId, kind, body }: Row) {
  if (kind !== 'task') return;
  const where = { sessionId, kind, undoneAt: null };
  const others = await tx.correction.findMany({ where, select: { body: true } });
  const name = nameOf(body);
  if (!others.some((other) => nameOf(other.body) === name)) return;
  throw new DomainError('task-there', `A task “${name}” is there already.`);
}

export const restoreCorrection = defineCommand({
  name: 'restore-correction',
  ...undoable,
  run: async (context, { id }): Promise<Readonly<{ id: string; jobId: string }>> => {
    const where = { id };
    const select = { sessionId: true, kind: true, body: true, undoneAt: true } as const;
    const row = await context.tx.correction.findUniqueOrThrow({ where, select });
    if (row.undoneAt === null) throw new DomainError('counts-already', 'It counts already.');
    await requireOwnName(context, row);
    await context.tx.correction.update({
      where,
      data: { undoneAt: null, undoneBy: null, version: { increment: 1 } },
      select: { id: true },
    });
    const jobId = await queueReconstruction(context, row.sessionId);
    context.afterCommit(wakeQueue);
    return { id, jobId };
  },
});
