/** Versions of plan and rules when a file of a session is replaced: kept, or noted as others in use. */
import type { InputKind } from '@/lib/core/session/file-identity';
import { db, type Transaction } from '../db';
import { newId } from '../new-id';
import type { FolderReading } from './import-messages';
import { readStoredInput, type SessionEdition } from './session-files';

type VersionRow = Readonly<{ id: string; sha256: string; body: string }>;
export type KeptVersions = Readonly<{
  planVersion: VersionRow | null;
  ruleSetVersion: VersionRow | null;
}>;

/** The versions in use, of plan and of rules each where its file is not the one that is replaced. */
export async function keptVersions(
  session: SessionEdition,
  { input }: FolderReading,
): Promise<KeptVersions> {
  const before = await readStoredInput(session);
  const version = { select: { id: true, sha256: true, body: true } } as const;
  const row = await db().session.findUniqueOrThrow({
    where: { id: session.id },
    select: { planVersion: version, ruleSetVersion: version },
  });
  return {
    planVersion: before.planSha256 === input.planSha256 ? row.planVersion : null,
    ruleSetVersion: before.rulesSha256 === input.rulesSha256 ? row.ruleSetVersion : null,
  };
}

/** What each replaced file became; absent for a kind whose file stays. */
type Replaced = Readonly<{ planVersionId?: string | null; ruleSetVersionId?: string | null }>;

/** A replaced plan or rule file is another version in use, as when a person puts one in use. */
export async function noteOtherVersions(
  tx: Transaction,
  { sessionId, author }: Readonly<{ sessionId: string; author: string }>,
  now: Replaced,
): Promise<void> {
  const where = { id: sessionId };
  const select = { planVersionId: true, ruleSetVersionId: true } as const;
  const before = await tx.session.findUniqueOrThrow({ where, select });
  const note = async (kind: InputKind, from: string | null, to: string | null = null) => {
    if (to === null || from === to) return;
    const use = { sessionId, kind, fromVersionId: from, toVersionId: to, author };
    const data = { id: newId(), ...use, reason: 'its file was replaced' };
    await tx.versionUse.create({ data, select: { id: true } });
  };
  await note('plan', before.planVersionId, now.planVersionId);
  await note('rules', before.ruleSetVersionId, now.ruleSetVersionId);
}
