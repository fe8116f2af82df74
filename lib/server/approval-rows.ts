/** Approvals of a draft as rows, and the roles that the team requires. */
import { z } from 'zod';
import { type Approval, STATED_ONLY } from '@/lib/core/debrief/approvals';
import type { Transaction } from './db';
import { parseJson } from './rows';

const rolesSchema = z.array(z.string());
const shownSchema = z.array(z.object({ role: z.string(), name: z.string() }));

/** An approval that nobody and nothing has withdrawn, and that no publication has taken up. */
export type StandingApproval = Approval & Readonly<{ id: string }>;

/** Oldest first. @param tx a transaction, or the client itself for reading */
export async function standingApprovals(
  tx: Pick<Transaction, 'approval'>,
  where: Readonly<{ teamId: string; sessionId: string }>,
): Promise<readonly StandingApproval[]> {
  const { teamId, sessionId } = where;
  const rows = await tx.approval.findMany({
    where: { withdrawnAt: null, publishedAt: null, document: { sessionId, session: { teamId } } },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
    select: { id: true, role: true, name: true, contentSha256: true, at: true },
  });
  return rows.map(({ at, ...row }) => ({
    ...row,
    atIso: at.toISOString(),
    identity: STATED_ONLY,
  }));
}

/** The roles without whose approval the team publishes nothing. */
export async function requiredRolesOf(
  tx: Pick<Transaction, 'team'>,
  teamId: string,
): Promise<readonly string[]> {
  const team = await tx.team.findUnique({ where: { id: teamId }, select: { requiredRoles: true } });
  return parseJson(rolesSchema, team?.requiredRoles ?? '[]');
}

/** Who approved a publication, as its row says. */
export function shownApprovals(text: string): readonly Readonly<{ role: string; name: string }>[] {
  return parseJson(shownSchema, text);
}
