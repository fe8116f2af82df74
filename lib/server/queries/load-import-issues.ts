/** What the import had to say of a session's files: warnings and notes, shown with the sources. */
import { cache } from 'react';
import type { Issue } from '@/lib/core/result';
import { localActor } from '../actor';
import { db } from '../db';
import { jobResultFromJson } from './load-job';

export const loadImportIssues = cache(async (sessionId: string): Promise<readonly Issue[]> => {
  const where = { sessionId, teamId: localActor().teamId, state: 'done' };
  const select = { result: true } as const;
  // After a file was replaced the whole folder has been read again; an import that only found the
  // session has nothing to say of it.
  const row =
    (await db().job.findFirst({
      where: { ...where, kind: 'replace' },
      orderBy: { createdAt: 'desc' },
      select,
    })) ??
    (await db().job.findFirst({
      where: { ...where, kind: { in: ['import', 'demo'] } },
      orderBy: { createdAt: 'asc' },
      select,
    }));
  return row?.result == null ? [] : jobResultFromJson(row.result).issues;
});
