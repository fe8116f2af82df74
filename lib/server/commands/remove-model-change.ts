/** Takes a model change off the table; one undo brings it back. */
import { z } from 'zod';
import { invariant } from '@/lib/core/result';
import { withEarlier } from '../model-change-row';
import { defineCommand } from './define-command';
import { loadModelChangeRow, versionedModelChange } from './edit-model-change';

export const removeModelChange = defineCommand({
  name: 'remove-model-change',
  input: z.object({ id: z.string().min(1), version: z.int() }),
  may: () => true,
  version: {
    expected: (change) => change.version,
    load: (context, change) => versionedModelChange(context, change.id),
  },
  run: async (context, { id, version }): Promise<Readonly<{ id: string }>> => {
    const before = await loadModelChangeRow(context, id);
    invariant(before !== null, 'the version was checked');
    await context.tx.modelChange.update({
      where: { id },
      data: { removedAt: context.now, earlier: withEarlier(before), version: version + 1 },
      select: { id: true },
    });
    return { id };
  },
});
