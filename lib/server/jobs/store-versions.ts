/**
 * Plans and rule sets as immutable versions, numbered within the entry of the register they belong to.
 *
 * A file belongs to an entry only where that is beyond doubt: its very bytes are known, or an
 * earlier session of the same title and kind (the same flight or run, imported again after a change)
 * brought a file of the same title. Every other file starts an entry of its own, so that two
 * unrelated `rules.yaml` are never two versions of one.
 */
import type { Actor } from '../actor';
import type { Transaction } from '../db';
import { newId } from '../new-id';
import { toJson } from '../rows';
import type { StoredInput } from './stored-input';

type File = Readonly<{ title: string; sha256: string; text: string; body: string }>;

/** What is asked of the table of plans and of that of rule sets alike. */
type Versions = Readonly<{
  findUnique: (
    query: Readonly<{
      where: { teamId_sha256: { teamId: string; sha256: string } };
      select: { id: true };
    }>,
  ) => PromiseLike<{ id: string } | null>;
  findFirst: (query: ReturnType<typeof earlierVersion>) => PromiseLike<{ entryId: string } | null>;
  aggregate: (
    query: Readonly<{ where: { entryId: string }; _max: { number: true } }>,
  ) => PromiseLike<{ _max: { number: number | null } }>;
  create: (
    query: Readonly<{
      data: File & Readonly<{ id: string; teamId: string; entryId: string; number: number }>;
      select: { id: true };
    }>,
  ) => PromiseLike<{ id: string }>;
}>;

/** What of a session that was read decides about its plan. */
type PlanReading = Readonly<{
  input: Pick<StoredInput, 'title' | 'kind' | 'plan' | 'planSha256'>;
  planText: string | null;
}>;

type RulesReading = Readonly<{
  input: Pick<StoredInput, 'title' | 'kind' | 'rules' | 'rulesSha256'>;
  sessionFile: Readonly<{ rulesFile: string | null }>;
  rulesText: string | null;
}>;

/** @returns the id of the plan's version; null for a session without a plan */
export async function storePlan(
  tx: Transaction,
  { teamId }: Actor,
  { input, planText }: PlanReading,
): Promise<string | null> {
  const { plan, planSha256: sha256 } = input;
  if (plan === null || sha256 === null || planText === null) return null;
  const file = { title: plan.title, sha256, text: planText, body: toJson(plan) };
  return storeVersion(tx.planVersion, file, { teamId, title: input.title, kind: input.kind });
}

/** A rule file has no title: its file name is it. @returns as for a plan */
export async function storeRules(
  tx: Transaction,
  { teamId }: Actor,
  { input, sessionFile, rulesText }: RulesReading,
): Promise<string | null> {
  const { rules, rulesSha256: sha256 } = input;
  const title = sessionFile.rulesFile;
  if (title === null || sha256 === null || rulesText === null) return null;
  const file = { title, sha256, text: rulesText, body: toJson(rules) };
  return storeVersion(tx.ruleSetVersion, file, { teamId, title: input.title, kind: input.kind });
}

/** The session that brings a file: others of its title and kind are the same flight or run. */
type Lineage = Readonly<{ teamId: string; title: string; kind: string }>;

async function storeVersion(versions: Versions, file: File, lineage: Lineage): Promise<string> {
  const { teamId } = lineage;
  const where = { teamId_sha256: { teamId, sha256: file.sha256 } };
  const known = await versions.findUnique({ where, select: { id: true } });
  if (known !== null) return known.id;
  const earlier = await versions.findFirst(earlierVersion(file, lineage));
  const entryId = earlier?.entryId ?? newId();
  const last = await versions.aggregate({ where: { entryId }, _max: { number: true } });
  const number = (last._max.number ?? 0) + 1;
  const data = { id: newId(), teamId, entryId, number, ...file };
  return (await versions.create({ data, select: { id: true } })).id;
}

/** The newest version of this title that the lineage brought. */
function earlierVersion({ title }: File, lineage: Lineage) {
  return {
    where: { teamId: lineage.teamId, title, sessions: { some: lineage } },
    orderBy: { createdAt: 'desc' },
    select: { entryId: true },
  } as const;
}
