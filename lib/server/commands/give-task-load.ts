/** Keeps a task load: six sub-scales, whose plain mean is the rating. */
import { z } from 'zod';
import { rawTaskLoad, TASK_LOAD, taskLoadFaults } from '@/lib/core/handling/task-load';
import { DomainError } from '@/lib/core/result';
import type { HandlingRating } from '@/lib/core/session/handling-words';
import { requireSession } from './anchor-input';
import { defineCommand } from './define-command';
import { requireTask } from './give-rating';
import { keepCorrection } from './keep-correction';

const subScale = z.number('Choose a value.').min(0).max(100);

const input = z.object({
  sessionId: z.string().min(1),
  task: z.string().min(1, 'A task is needed.').max(200),
  load: z.object({
    mental: subScale,
    physical: subScale,
    temporal: subScale,
    performance: subScale,
    effort: subScale,
    frustration: subScale,
  }),
  rater: z.string().trim().min(1, 'Who rates is needed.').max(200),
  remark: z.string().trim().max(2_000),
});

export const giveTaskLoad = defineCommand({
  name: 'give-task-load',
  input,
  may: () => true,
  run: async (context, word): Promise<Readonly<{ id: string; jobId: string }>> => {
    const { sessionId, remark, load, ...rest } = word;
    await requireSession(context, sessionId);
    const [fault] = taskLoadFaults(load);
    if (fault !== undefined) {
      throw new DomainError('rating-not-allowed', `This cannot be given: ${fault}.`);
    }
    await requireTask(context, sessionId, rest.task);
    const correction: HandlingRating = {
      ...rest,
      scale: TASK_LOAD.id,
      answers: {},
      rating: rawTaskLoad(load),
      load,
      remark: remark === '' ? null : remark,
      by: context.actor.name,
      reason: null,
    };
    return keepCorrection(context, { sessionId, kind: 'rating', correction });
  },
});
