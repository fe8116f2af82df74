/** What the import had to say of a session's files: warnings and notes, shown with the sources. */
import { cache } from 'react';
import type { Issue } from '@/lib/core/result';
import { localActor } from '../actor';
import { db } from '../db';
import { jobResultFromJson } from './load-job';

export const loadImportIssues = cache(async (sessionId: string): Promise<readonly Issue[]> => {
  const row = await db().job.findFirst({
    where: {
      sessionId,
      teamId: localActor().teamId,
      kind: { in: ['import', 'demo'] },
      state: 'done',
    },
    orderBy: { createdAt: 'asc' },
    select: { result: true },
  });
  return row?.result == null ? [] : jobResultFromJson(row.result).issues;
});
