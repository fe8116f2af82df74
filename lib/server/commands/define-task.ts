/** Names a task that was flown by hand, with the bounds that were asked for. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import type { HandlingTask } from '@/lib/core/session/handling-words';
import { requireSession } from './anchor-input';
import { defineCommand } from './define-command';
import { keepCorrection } from './keep-correction';

const seconds = z.number('A time is needed.').min(-1e9).max(1e9);
const size = z.number('A number is needed.').positive('It must be above zero.').max(1e9);

const input = z
  .object({
    sessionId: z.string().min(1),
    name: z.string().trim().min(1, 'A name is needed.').max(200),
    pilot: z.string().trim().min(1, 'Who flew it is needed.').max(200),
    fromS: seconds,
    toS: seconds,
    quantity: z.string().min(1, 'A quantity is needed.').max(200),
    target: z.number('A number is needed.').min(-1e9).max(1e9),
    desired: size,
    adequate: size,
    reason: z.string().trim().max(2_000),
  })
  .refine(({ fromS, toS }) => toS > fromS, {
    message: 'It must end after it starts.',
    path: ['toS'],
  })
  .refine(({ desired, adequate }) => adequate >= desired, {
    message: 'Adequate cannot be closer than desired.',
    path: ['adequate'],
  });

export const defineTask = defineCommand({
  name: 'define-task',
  input,
  may: () => true,
  run: async (context, word): Promise<Readonly<{ id: string; jobId: string }>> => {
    const { sessionId, reason, ...task } = word;
    await requireSession(context, sessionId);
    const kept = await context.tx.correction.findMany({
      where: { sessionId, kind: 'task', undoneAt: null },
      select: { body: true },
    });
    const names = kept.map(
      ({ body }) => z.looseObject({ name: z.string() }).parse(JSON.parse(body)).name,
    );
    if (names.includes(task.name)) {
      throw new DomainError('task-there', `A task “${task.name}” is there already.`);
    }
    const by = context.actor.name;
    const correction: HandlingTask = { ...task, by, reason: reason === '' ? null : reason };
    return keepCorrection(context, { sessionId, kind: 'task', correction });
  },
});
