/** A question to the crew about a stretch. */
import { z } from 'zod';
import type { CrewQuestion } from '@/lib/core/findings/crew-question';
import { CREW_QUESTION_COLUMNS, crewQuestionFromRow } from '../crew-question-row';
import { newId } from '../new-id';
import { requireForward, requireSession, stretchInput } from './anchor-input';
import { defineCommand } from './define-command';

export const questionText = z
  .string()
  .trim()
  .min(1, 'A question needs words.')
  .max(2_000, 'At most 2000 characters.');

export const askCrew = defineCommand({
  name: 'ask-crew',
  input: z.object({ sessionId: z.string().min(1), question: questionText, ...stretchInput }),
  may: () => true,
  run: async (context, asked): Promise<CrewQuestion> => {
    requireForward(asked);
    const { sessionId } = asked;
    await requireSession(context, sessionId);
    const last = await context.tx.crewQuestion.aggregate({
      where: { sessionId },
      _max: { number: true },
    });
    const row = await context.tx.crewQuestion.create({
      data: {
        id: newId(),
        ...asked,
        channels: JSON.stringify(asked.channels),
        number: (last._max.number ?? 0) + 1,
        author: context.actor.name,
        createdAt: context.now,
      },
      select: CREW_QUESTION_COLUMNS,
    });
    return crewQuestionFromRow(row);
  },
});
