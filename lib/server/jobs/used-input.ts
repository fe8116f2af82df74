/**
 * A session's input with the versions of plan and rules that are in use. The folder's own files stay
 * as they came; a version that a person put in use takes their place wherever something is computed.
 */
import type { Plan } from '@/lib/core/session/plan';
import type { Rule } from '@/lib/core/session/rule';
import { db } from '../db';
import { fromJson } from '../rows';
import { readStoredInput, type SessionEdition } from './session-files';
import type { StoredInput } from './stored-input';

type Kept = Readonly<{ sha256: string; body: string }> | null;
type Used = Readonly<{ planVersion: Kept; ruleSetVersion: Kept }>;

/** What was read from the folder's own bytes stays; other bytes come from the version's row. */
export function withVersions(stored: StoredInput, used: Used): StoredInput {
  const { planVersion: plan, ruleSetVersion: rules } = used;
  const otherPlan = plan !== null && plan.sha256 !== stored.planSha256;
  const otherRules = rules !== null && rules.sha256 !== stored.rulesSha256;
  return {
    ...stored,
    // The columns hold what the file readers gave when the version was stored.
    ...(otherPlan ? { plan: fromJson(plan.body) as Plan, planSha256: plan.sha256 } : {}),
    ...(otherRules
      ? { rules: fromJson(rules.body) as readonly Rule[], rulesSha256: rules.sha256 }
      : {}),
  };
}

/** The versions that a session uses. */
export async function versionsInUse(sessionId: string): Promise<Used> {
  const version = { select: { sha256: true, body: true } } as const;
  const row = await db().session.findUnique({
    where: { id: sessionId },
    select: { planVersion: version, ruleSetVersion: version },
  });
  return row ?? { planVersion: null, ruleSetVersion: null };
}

/** What reading the folder yielded, with the versions in use. */
export async function readUsedInput(edition: SessionEdition): Promise<StoredInput> {
  return withVersions(await readStoredInput(edition), await versionsInUse(edition.id));
}
