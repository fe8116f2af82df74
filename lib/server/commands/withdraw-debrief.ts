/** Withdraws one revision of a published debrief, with the reason. Nothing of it is deleted. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { defineCommand } from './define-command';

const input = z.object({
  number: z.int().positive(),
  revision: z.int().positive(),
  reason: z
    .string()
    .trim()
    .min(1, 'A withdrawal needs a reason.')
    .max(500, 'A reason has at most 500 characters.'),
});

export const withdrawDebrief = defineCommand({
  name: 'withdraw-debrief',
  input,
  may: () => true,
  run: async ({ tx, actor, now }, { number, revision, reason }): Promise<{ id: string }> => {
    const row = await tx.publication.findFirst({
      where: { teamId: actor.teamId, number, revision },
      select: { id: true, withdrawnAt: true },
    });
    if (row === null) throw new DomainError('not-found', 'There is no such publication.');
    if (row.withdrawnAt !== null) {
      throw new DomainError('withdrawn-already', 'This revision has been withdrawn already.');
    }
    await tx.publication.update({
      where: { id: row.id },
      data: { withdrawnAt: now, withdrawnBy: actor.name, withdrawnReason: reason },
      select: { id: true },
    });
    return { id: row.id };
  },
});
