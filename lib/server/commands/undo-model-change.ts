/** Takes back the last change of a model change: its words, its evidence, or its removal. */
import { z } from 'zod';
import type { ModelChange } from '@/lib/core/findings/model-change';
import { DomainError, invariant } from '@/lib/core/result';
import { earlierOf, MODEL_CHANGE_COLUMNS, modelChangeFromRow } from '../model-change-row';
import { defineCommand } from './define-command';
import { loadModelChangeRow, versionedModelChange } from './edit-model-change';

export const undoModelChange = defineCommand({
  name: 'undo-model-change',
  input: z.object({ id: z.string().min(1), version: z.int() }),
  may: () => true,
  version: {
    expected: (change) => change.version,
    load: (context, change) => versionedModelChange(context, change.id),
  },
  run: async (context, { id, version }): Promise<ModelChange> => {
    const now = await loadModelChangeRow(context, id);
    invariant(now !== null, 'the version was checked');
    const earlier = earlierOf(now);
    const last = earlier.at(-1);
    if (last === undefined) {
      throw new DomainError('nothing-to-undo', 'Nothing of this change can be undone.');
    }
    const { figures, removedAtIso, ...columns } = last;
    const row = await context.tx.modelChange.update({
      where: { id },
      data: {
        ...columns,
        figures: JSON.stringify(figures),
        removedAt: removedAtIso === null ? null : new Date(removedAtIso),
        earlier: JSON.stringify(earlier.slice(0, -1)),
        version: version + 1,
      },
      select: MODEL_CHANGE_COLUMNS,
    });
    return modelChangeFromRow(row);
  },
});
