/** Who is asking. Until sign-in exists, one local person in one team. */
import { db } from './db';

export type Actor = Readonly<{ teamId: string; personId: string; name: string }>;

const LOCAL: Actor = { teamId: 'local', personId: 'local', name: 'Local reviewer' };

/** The person at this machine. */
export function localActor(): Actor {
  return LOCAL;
}

/** Makes the rows that the local person stands for; nothing happens when they are there. */
export async function ensureLocalActor(): Promise<void> {
  await db().team.upsert({
    where: { id: LOCAL.teamId },
    create: { id: LOCAL.teamId, name: 'Local team' },
    update: {},
    select: { id: true },
  });
  await db().person.upsert({
    where: { id: LOCAL.personId },
    create: { id: LOCAL.personId, teamId: LOCAL.teamId, name: LOCAL.name },
    update: {},
    select: { id: true },
  });
}
