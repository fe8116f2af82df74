/** Which version a draft is at, and what it was before. */
import type { DocNode } from '@/lib/core/debrief/document';
import type { SavedVersion } from '@/lib/view/debrief/saved-version';
import { localActor } from '../actor';
import { db } from '../db';
import { checkedDocument } from '../publish/stored-document';

/** Most earlier versions that a list shows. */
const MOST_LISTED = 200;

/** @returns null where there is no draft */
export async function loadDraftStamp(sessionId: string): Promise<SavedVersion | null> {
  const row = await db().document.findFirst({
    where: { sessionId, session: { teamId: localActor().teamId } },
    select: { version: true, updatedBy: true, updatedAt: true },
  });
  if (row === null) return null;
  return { version: row.version, by: row.updatedBy, atIso: row.updatedAt.toISOString() };
}

/** Versions that are still kept, the newest first; `by` and `atIso` are of the save that replaced each. */
export async function loadEarlierVersions(sessionId: string): Promise<readonly SavedVersion[]> {
  const rows = await db().documentRevision.findMany({
    where: { document: { sessionId, session: { teamId: localActor().teamId } } },
    orderBy: { version: 'desc' },
    take: MOST_LISTED,
    select: { version: true, savedBy: true, savedAt: true },
  });
  return rows.map(({ version, savedBy, savedAt }) => ({
    version,
    by: savedBy,
    atIso: savedAt.toISOString(),
  }));
}

/** The text of one earlier version; null where it is not kept. */
export async function loadEarlierVersion(
  sessionId: string,
  version: number,
): Promise<DocNode | null> {
  if (!Number.isInteger(version)) return null;
  const row = await db().documentRevision.findFirst({
    where: { version, document: { sessionId, session: { teamId: localActor().teamId } } },
    select: { body: true },
  });
  return row === null ? null : checkedDocument(JSON.parse(row.body));
}
