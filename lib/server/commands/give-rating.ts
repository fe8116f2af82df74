/** Keeps a rating of a task; one that the answers do not allow, or of an automatic stretch, is refused. */
import { z } from 'zod';
import { ratingFault } from '@/lib/core/handling/decision-tree';
import { ratingScale } from '@/lib/core/handling/rating-scales';
import { DomainError } from '@/lib/core/result';
import type { HandlingRating } from '@/lib/core/session/handling-words';
import { reconstructionFromBody } from '../rows';
import { requireSession } from './anchor-input';
import { type CommandContext, defineCommand } from './define-command';
import { keepCorrection } from './keep-correction';

const input = z.object({
  sessionId: z.string().min(1),
  task: z.string().min(1, 'A task is needed.').max(200),
  scale: z.string().min(1).max(100),
  answers: z.record(z.string().max(100), z.enum(['yes', 'no'])),
  rating: z.int('A rating is needed.').min(1).max(10),
  rater: z.string().trim().min(1, 'Who rates is needed.').max(200),
  remark: z.string().trim().max(2_000),
});

/** The task as last computed: a rating is for something that was measured. */
export async function requireTask(
  { tx }: CommandContext,
  sessionId: string,
  name: string,
): Promise<void> {
  const row = await tx.reconstruction.findFirst({
    where: { sessionId },
    orderBy: { createdAt: 'desc' },
    select: { body: true },
  });
  const tasks = row === null ? [] : reconstructionFromBody(row.body).handling.tasks;
  const task = tasks.find((each) => each.name === name);
  if (task === undefined) {
    throw new DomainError(
      'no-such-task',
      `There is no task “${name}” yet. A task that was just named is there when it has been measured.`,
    );
  }
  if (task.pilotInLoop === 'at rest') {
    throw new DomainError(
      'flown-automatically',
      'No hand controller was moved in this task: it was flown automatically and cannot be rated.',
    );
  }
}

export const giveRating = defineCommand({
  name: 'give-rating',
  input,
  may: () => true,
  run: async (context, word): Promise<Readonly<{ id: string; jobId: string }>> => {
    const { sessionId, remark, ...rest } = word;
    await requireSession(context, sessionId);
    const scale = ratingScale(rest.scale);
    if (scale === null)
      throw new DomainError('no-such-scale', `There is no scale “${rest.scale}”.`);
    const fault = ratingFault(scale, rest.answers, rest.rating);
    if (fault !== null)
      throw new DomainError('rating-not-allowed', `This cannot be given: ${fault}.`);
    await requireTask(context, sessionId, rest.task);
    const correction: HandlingRating = {
      ...rest,
      remark: remark === '' ? null : remark,
      by: context.actor.name,
      reason: null,
    };
    return keepCorrection(context, { sessionId, kind: 'rating', correction });
  },
});
