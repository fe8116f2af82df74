/** Findings of a session. */
import { cache } from 'react';
import type { Finding } from '@/lib/core/findings/finding';
import { localActor } from '../actor';
import { db } from '../db';
import { FINDING_COLUMNS, findingFromRow } from '../rows';

/** In the order of their numbers, withdrawn ones included. */
export const loadFindings = cache(async (sessionId: string): Promise<Finding[]> => {
  const rows = await db().finding.findMany({
    where: { sessionId, session: { teamId: localActor().teamId } },
    orderBy: { number: 'asc' },
    select: FINDING_COLUMNS,
  });
  return rows.map(findingFromRow);
});
