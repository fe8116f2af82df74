/** Changes a model change's words or evidence; what it said before is kept for undoing. */
import { z } from 'zod';
import type { ModelChange } from '@/lib/core/findings/model-change';
import { invariant } from '@/lib/core/result';
import {
  MODEL_CHANGE_COLUMNS,
  type ModelChangeRow,
  modelChangeFromRow,
  withEarlier,
} from '../model-change-row';
import { modelChangeWords } from './create-model-change';
import { type CommandContext, defineCommand } from './define-command';

/** The row as it is; null where the team has none of that id. */
export async function loadModelChangeRow(
  context: CommandContext,
  id: string,
): Promise<ModelChangeRow | null> {
  return context.tx.modelChange.findFirst({
    where: { id, session: { teamId: context.actor.teamId } },
    select: MODEL_CHANGE_COLUMNS,
  });
}

/** What a version check compares and shows. */
export async function versionedModelChange(context: CommandContext, id: string) {
  const row = await loadModelChangeRow(context, id);
  return row === null ? null : { version: row.version, value: modelChangeFromRow(row) };
}

export const editModelChange = defineCommand({
  name: 'edit-model-change',
  input: z.object({ id: z.string().min(1), version: z.int(), ...modelChangeWords }),
  may: () => true,
  version: {
    expected: (change) => change.version,
    load: (context, change) => versionedModelChange(context, change.id),
  },
  run: async (context, { id, version, figures, ...columns }): Promise<ModelChange> => {
    const before = await loadModelChangeRow(context, id);
    invariant(before !== null, 'the version was checked');
    const row = await context.tx.modelChange.update({
      where: { id },
      data: {
        ...columns,
        figures: JSON.stringify(figures),
        earlier: withEarlier(before),
        version: version + 1,
      },
      select: MODEL_CHANGE_COLUMNS,
    });
    return modelChangeFromRow(row);
  },
});
