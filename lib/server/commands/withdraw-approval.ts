/** Takes an approval back before it is published. Anybody may; who did, when and why stays with it. */
import { z } from 'zod';
import { LONGEST_ROLE } from '@/lib/core/debrief/approvals';
import { DomainError } from '@/lib/core/result';
import { defineCommand } from './define-command';

const input = z.object({
  id: z.string().min(1),
  name: z
    .string()
    .trim()
    .min(1, 'Say who withdraws it.')
    .max(LONGEST_ROLE, `A name has at most ${LONGEST_ROLE} characters.`),
  reason: z.string().trim().max(500, 'A reason has at most 500 characters.').default(''),
});

export const withdrawApproval = defineCommand({
  name: 'withdraw-approval',
  input,
  may: () => true,
  detail: ({ name, reason }) => ({ name, reason }),
  run: async ({ tx, actor, now }, { id, name, reason }): Promise<{ id: string }> => {
    const row = await tx.approval.findFirst({
      where: { id, document: { session: { teamId: actor.teamId } } },
      select: { withdrawnAt: true, publishedAt: true },
    });
    if (row === null) throw new DomainError('not-found', 'There is no such approval.');
    if (row.publishedAt !== null) {
      const message =
        'It stands in what was published, which never changes: withdraw that revision instead.';
      throw new DomainError('published-already', message);
    }
    if (row.withdrawnAt !== null) {
      throw new DomainError('withdrawn-already', 'This approval has been withdrawn already.');
    }
    return tx.approval.update({
      where: { id },
      data: { withdrawnAt: now, withdrawnBy: name, withdrawnReason: reason },
      select: { id: true },
    });
  },
});
