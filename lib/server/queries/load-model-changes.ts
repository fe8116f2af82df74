/** Changes proposed for the simulator's model, of a session. */
import { cache } from 'react';
import type { ModelChange } from '@/lib/core/findings/model-change';
import { localActor } from '../actor';
import { db } from '../db';
import { MODEL_CHANGE_COLUMNS, modelChangeFromRow } from '../model-change-row';

/** In the order of their numbers, removed ones included. */
export const loadModelChanges = cache(async (sessionId: string): Promise<ModelChange[]> => {
  const rows = await db().modelChange.findMany({
    where: { sessionId, session: { teamId: localActor().teamId } },
    orderBy: { number: 'asc' },
    select: MODEL_CHANGE_COLUMNS,
  });
  return rows.map(modelChangeFromRow);
});
