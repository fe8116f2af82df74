/** Approvals of a draft that is not published, and what the team requires. */
import { cache } from 'react';
import type { GivenApproval } from '@/lib/view/debrief/approvals-view';
import { localActor } from '../actor';
import { requiredRolesOf } from '../approval-rows';
import { db } from '../db';

/** Most approvals that were withdrawn which a list shows; those that were not are never left out. */
const MOST_LISTED = 50;

const COLUMNS = {
  id: true,
  role: true,
  name: true,
  contentSha256: true,
  draftVersion: true,
  at: true,
  withdrawnAt: true,
  withdrawnBy: true,
  withdrawnReason: true,
} as const;

const NEWEST_FIRST = [{ at: 'desc' as const }, { id: 'desc' as const }];

/** Newest first, those withdrawn included; not those that a publication has taken up. */
export async function loadApprovals(sessionId: string): Promise<readonly GivenApproval[]> {
  const document = { sessionId, session: { teamId: localActor().teamId } };
  const given = await db().approval.findMany({
    where: { publishedAt: null, withdrawnAt: null, document },
    orderBy: NEWEST_FIRST,
    select: COLUMNS,
  });
  const withdrawn = await db().approval.findMany({
    where: { publishedAt: null, withdrawnAt: { not: null }, document },
    orderBy: NEWEST_FIRST,
    take: MOST_LISTED,
    select: COLUMNS,
  });
  const rows = [...given, ...withdrawn].sort((a, b) => b.at.getTime() - a.at.getTime());
  return rows.map(({ at, withdrawnAt, withdrawnBy, withdrawnReason, ...row }) => ({
    ...row,
    atIso: at.toISOString(),
    withdrawn:
      withdrawnAt === null
        ? null
        : {
            atIso: withdrawnAt.toISOString(),
            by: withdrawnBy ?? '',
            reason: withdrawnReason ?? '',
          },
  }));
}

/** The roles that the team requires. */
export const loadRequiredRoles = cache(() => requiredRolesOf(db(), localActor().teamId));
