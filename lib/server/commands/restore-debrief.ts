/** Takes back the withdrawal of a revision, with the reason. Both acts stay on record. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { type PublicationAct, publicationActs } from '../publication-acts';
import { defineCommand } from './define-command';

const input = z.object({
  number: z.int().positive(),
  revision: z.int().positive(),
  /** When the withdrawal that was looked at was made. */
  withdrawnAtIso: z.string().max(40),
  reason: z
    .string()
    .trim()
    .min(1, 'Taking a withdrawal back needs a reason.')
    .max(500, 'A reason has at most 500 characters.'),
});

export const restoreDebrief = defineCommand({
  name: 'restore-debrief',
  input,
  may: () => true,
  detail: ({ reason }) => ({ reason }),
  run: async ({ tx, actor, now }, request): Promise<{ id: string }> => {
    const { number, revision, withdrawnAtIso, reason } = request;
    const row = await tx.publication.findFirst({
      where: { teamId: actor.teamId, number, revision },
      select: {
        id: true,
        withdrawnAt: true,
        withdrawnBy: true,
        withdrawnReason: true,
        earlierActs: true,
      },
    });
    if (row === null) throw new DomainError('not-found', 'There is no such publication.');
    if (row.withdrawnAt === null) {
      throw new DomainError('not-withdrawn', 'This revision is not withdrawn, or no longer.');
    }
    const atIso = row.withdrawnAt.toISOString();
    if (atIso !== withdrawnAtIso) {
      const message = 'It has been withdrawn anew since you looked at it: read why, then decide.';
      throw new DomainError('changed-meanwhile', message);
    }
    const [by, why] = [row.withdrawnBy ?? '', row.withdrawnReason ?? ''];
    const acts: readonly PublicationAct[] = [
      ...publicationActs(row.earlierActs),
      { kind: 'withdrawn', by, atIso, reason: why },
      { kind: 'restored', by: actor.name, atIso: now.toISOString(), reason },
    ];
    return tx.publication.update({
      where: { id: row.id },
      data: {
        withdrawnAt: null,
        withdrawnBy: null,
        withdrawnReason: null,
        earlierActs: JSON.stringify(acts),
      },
      select: { id: true },
    });
  },
});
