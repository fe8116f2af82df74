/** Takes the demo out of the database, its publications included; the sweep then takes its files. */
import { localActor } from '../actor';
import { db, TRANSACTION_LIMITS, type Transaction } from '../db';

/** @returns how many demo sessions there were */
export async function deleteDemoSessions(tx: Transaction, teamId: string): Promise<number> {
  const session = { teamId, origin: 'demo' };
  await tx.publication.deleteMany({ where: { teamId, session } });
  return (await tx.session.deleteMany({ where: session })).count;
}

/** Plans and rule sets that no session names any more. */
export async function deleteUnusedVersions(tx: Transaction, teamId: string): Promise<void> {
  const unused = { teamId, sessions: { none: {} } };
  await tx.planVersion.deleteMany({ where: unused });
  await tx.ruleSetVersion.deleteMany({ where: unused });
}

export async function removeDemoRows(): Promise<void> {
  const { teamId } = localActor();
  await db().$transaction(async (tx) => {
    const count = await deleteDemoSessions(tx, teamId);
    if (count > 0) await deleteUnusedVersions(tx, teamId);
  }, TRANSACTION_LIMITS);
}
