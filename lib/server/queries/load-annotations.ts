/** Annotations of a session. */
import { cache } from 'react';
import type { Annotation } from '@/lib/core/findings/finding';
import { localActor } from '../actor';
import { db } from '../db';
import { ANNOTATION_COLUMNS, annotationFromRow } from '../rows';

/** In time order, without removed ones. */
export const loadAnnotations = cache(async (sessionId: string): Promise<Annotation[]> => {
  const rows = await db().annotation.findMany({
    where: { sessionId, removedAt: null, session: { teamId: localActor().teamId } },
    orderBy: [{ fromS: 'asc' }, { createdAt: 'asc' }],
    select: ANNOTATION_COLUMNS,
  });
  return rows.map(annotationFromRow);
});
