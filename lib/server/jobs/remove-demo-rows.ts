/** Takes the demo out of the database, its publications included; the sweep then takes its samples. */
import { rm } from 'node:fs/promises';
import path from 'node:path';
import { localActor } from '../actor';
import { publishedRoot } from '../data-folders';
import { db, TRANSACTION_LIMITS, type Transaction } from '../db';
import { versionTable } from '../version-table';

export type DeletedDemo = Readonly<{
  sessionCount: number;
  /** Folders of its publications, to be removed after the commit. */
  publishedFolders: readonly string[];
}>;

export async function deleteDemoSessions(tx: Transaction, teamId: string): Promise<DeletedDemo> {
  const session = { teamId, origin: 'demo' };
  const published = await tx.publication.findMany({
    where: { teamId, session },
    select: { folder: true },
  });
  await tx.publication.deleteMany({ where: { teamId, session } });
  const { count } = await tx.session.deleteMany({ where: session });
  if (count > 0) await deleteUnusedVersions(tx, teamId);
  return { sessionCount: count, publishedFolders: published.map((row) => row.folder) };
}

/**
 * Entries of the register that no session names any more, unless a person saved a version in them. A
 * session names what it was read with before, too: going back to it must stay possible.
 */
export async function deleteUnusedVersions(tx: Transaction, teamId: string): Promise<void> {
  const uses = await tx.versionUse.findMany({
    where: { session: { teamId } },
    select: { fromVersionId: true, toVersionId: true },
  });
  const named = uses.flatMap((use) => [use.fromVersionId, use.toVersionId]);
  const usedBefore = { id: { in: [...new Set(named.filter((id) => id !== null))] } };
  for (const kind of ['plan', 'rules'] as const) {
    const table = versionTable(tx, kind);
    const kept = await table.findMany({
      where: { teamId, OR: [{ sessions: { some: {} } }, { author: { not: '' } }, usedBefore] },
      distinct: ['entryId'],
      select: { entryId: true },
    });
    const entryId = { notIn: kept.map((row) => row.entryId) };
    await table.deleteMany({ where: { teamId, entryId } });
  }
}

export async function removePublishedFolders(folders: readonly string[]): Promise<void> {
  for (const folder of folders) {
    await rm(path.join(publishedRoot(), folder), { recursive: true, force: true });
  }
}

/** The whole of it, outside a command: before the demo is loaded once more. */
export async function removeDemoRows(): Promise<void> {
  const { teamId } = localActor();
  const { publishedFolders } = await db().$transaction(
    (tx) => deleteDemoSessions(tx, teamId),
    TRANSACTION_LIMITS,
  );
  await removePublishedFolders(publishedFolders);
}
