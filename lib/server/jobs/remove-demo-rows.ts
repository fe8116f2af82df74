/** Takes the demo out of the database, its publications included; the sweep then takes its samples. */
import { rm } from 'node:fs/promises';
import path from 'node:path';
import { localActor } from '../actor';
import { publishedRoot } from '../data-folders';
import { db, TRANSACTION_LIMITS, type Transaction } from '../db';

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

/** Plans and rule sets that no session names any more. */
export async function deleteUnusedVersions(tx: Transaction, teamId: string): Promise<void> {
  const unused = { teamId, sessions: { none: {} } };
  await tx.planVersion.deleteMany({ where: unused });
  await tx.ruleSetVersion.deleteMany({ where: unused });
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
