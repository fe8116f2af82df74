/** A change proposed for the simulator's model, with the figures that speak for it. */
import { z } from 'zod';
import { MODEL_CHANGE_STATES, type ModelChange } from '@/lib/core/findings/model-change';
import { MODEL_CHANGE_COLUMNS, modelChangeFromRow } from '../model-change-row';
import { newId } from '../new-id';
import { capturedFigureSchema } from '../rows';
import { requireSession } from './anchor-input';
import { defineCommand } from './define-command';

const words = z.string().trim().max(500, 'At most 500 characters.');

export const modelChangeWords = {
  parameter: words.min(1, 'A parameter is needed.'),
  now: words.min(1, 'What it is now is needed.'),
  proposed: words.min(1, 'What is proposed is needed.'),
  owner: words,
  state: z.enum(MODEL_CHANGE_STATES, `One of: ${MODEL_CHANGE_STATES.join(', ')}.`),
  figures: z.array(capturedFigureSchema).max(100),
};

export const createModelChange = defineCommand({
  name: 'create-model-change',
  input: z.object({ sessionId: z.string().min(1), ...modelChangeWords }),
  may: () => true,
  run: async (context, { figures, ...columns }): Promise<ModelChange> => {
    const { sessionId } = columns;
    await requireSession(context, sessionId);
    const last = await context.tx.modelChange.aggregate({
      where: { sessionId },
      _max: { number: true },
    });
    const row = await context.tx.modelChange.create({
      data: {
        id: newId(),
        ...columns,
        number: (last._max.number ?? 0) + 1,
        figures: JSON.stringify(figures),
        author: context.actor.name,
        createdAt: context.now,
      },
      select: MODEL_CHANGE_COLUMNS,
    });
    return modelChangeFromRow(row);
  },
});
