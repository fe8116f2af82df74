/** Approvals of a draft that is not published, and what the team requires. */
import { cache } from 'react';
import type { GivenApproval } from '@/lib/view/debrief/approvals-view';
import { localActor } from '../actor';
import { requiredRolesOf } from '../approval-rows';
import { db } from '../db';

/** Most approvals that were withdrawn which a list shows. */
const MOST_LISTED = 50;

/** Newest first, those withdrawn included; not those that a publication has taken up. */
export async function loadApprovals(sessionId: string): Promise<readonly GivenApproval[]> {
  const rows = await db().approval.findMany({
    where: {
      publishedAt: null,
      document: { sessionId, session: { teamId: localActor().teamId } },
    },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    take: MOST_LISTED,
    select: {
      id: true,
      role: true,
      name: true,
      contentSha256: true,
      draftVersion: true,
      at: true,
      withdrawnAt: true,
      withdrawnBy: true,
      withdrawnReason: true,
    },
  });
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
