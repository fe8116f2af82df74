/**
 * Plans and rule sets as immutable versions, numbered within the entry of the register they belong to.
 *
 * A file belongs to an entry only where that is beyond doubt: its very bytes are known, a file of the
 * entry has the same `id`, or an earlier session of the same title and kind (the same flight or run,
 * imported again after a change) brought a file of the same title that names no other id. Every other
 * file starts an entry of its own, so that two unrelated `rules.yaml` are never two versions of one. A
 * person may say otherwise, by saving a file as a version of an entry of their choice.
 */
import { fileIdentity, type InputKind } from '@/lib/core/session/file-identity';
import { nameFromId } from '@/lib/core/session/name-from-id';
import type { Actor } from '../actor';
import type { Transaction } from '../db';
import { newId } from '../new-id';
import { toJson } from '../rows';
import { type NewVersion, versionTable } from '../version-table';
import type { StoredInput } from './stored-input';

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

/** `fileName`: what versions kept by older programs were called where the file has no title. */
type File = Pick<NewVersion, 'title' | 'sha256' | 'text' | 'body'> & Readonly<{ fileName: string }>;

/** @returns the id of the plan's version; null for a session without a plan */
export async function storePlan(
  tx: Transaction,
  { teamId }: Actor,
  { input, planText }: PlanReading,
): Promise<string | null> {
  const { plan, planSha256: sha256 } = input;
  if (plan === null || sha256 === null || planText === null) return null;
  const { title } = plan;
  const file = { title, fileName: title, sha256, text: planText, body: toJson(plan) };
  return storeFile(tx, 'plan', file, { teamId, title: input.title, kind: input.kind });
}

/** A rule file without a title is called by its file name, in words. @returns as for a plan */
export async function storeRules(
  tx: Transaction,
  { teamId }: Actor,
  { input, sessionFile, rulesText }: RulesReading,
): Promise<string | null> {
  const { rules, rulesSha256: sha256 } = input;
  const { rulesFile } = sessionFile;
  if (rulesFile === null || sha256 === null || rulesText === null) return null;
  const title = fileIdentity('rules', rulesText).title ?? titleFromFile(rulesFile);
  const file = { title, fileName: rulesFile, sha256, text: rulesText, body: toJson(rules) };
  return storeFile(tx, 'rules', file, { teamId, title: input.title, kind: input.kind });
}

/** `Abort rules` for `abort-rules.yaml`. */
function titleFromFile(file: string): string {
  const name = file.slice(file.lastIndexOf('/') + 1);
  return nameFromId(name.replace(/\.(ya?ml|json)$/i, ''));
}

/** The session that brings a file: others of its title and kind are the same flight or run. */
type Lineage = Readonly<{ teamId: string; title: string; kind: string }>;

async function storeFile(
  tx: Transaction,
  kind: InputKind,
  file: File,
  lineage: Lineage,
): Promise<string> {
  const { teamId } = lineage;
  const { fileName, ...row } = file;
  const table = versionTable(tx, kind);
  const select = { id: true } as const;
  const known = await table.findFirst({ where: { teamId, sha256: file.sha256 }, select });
  if (known !== null) return known.id;
  const fileId = fileIdentity(kind, file.text).id;
  const entryId = (await entryOf(table, { ...file, fileId }, lineage)) ?? newId();
  const last = await table.findFirst({
    where: { teamId, entryId },
    orderBy: { number: 'desc' },
    select: { number: true },
  });
  const number = (last?.number ?? 0) + 1;
  const brought = { author: '', reason: '' };
  const data = { id: newId(), teamId, entryId, number, ...row, ...brought, fileId };
  return (await table.create({ data, select })).id;
}

/** The entry that a new file goes on; null where it starts one of its own. */
async function entryOf(
  table: ReturnType<typeof versionTable>,
  { title, fileId, fileName }: Pick<File & NewVersion, 'title' | 'fileId' | 'fileName'>,
  lineage: Lineage,
): Promise<string | null> {
  const { teamId } = lineage;
  const newest = { orderBy: { createdAt: 'desc' }, select: { entryId: true } } as const;
  if (fileId !== null) {
    const named = await table.findFirst({ where: { teamId, fileId }, ...newest });
    if (named !== null) return named.entryId;
  }
  const where = { teamId, title: { in: [title, fileName] }, sessions: { some: lineage } };
  const unlessOther = fileId === null ? {} : { fileId: null };
  return (
    (await table.findFirst({ where: { ...where, ...unlessOther }, ...newest }))?.entryId ?? null
  );
}
