/** Sessions of the team beside one, by name, to be chosen from. */
import { cache } from 'react';
import { localActor } from '../actor';
import { db } from '../db';

export const loadOtherSessions = cache(
  async (sessionId: string): Promise<readonly Readonly<{ value: string; text: string }>[]> => {
    const rows = await db().session.findMany({
      where: { teamId: localActor().teamId, id: { not: sessionId } },
      orderBy: [{ zeroTaiNs: 'desc' }, { createdAt: 'desc' }],
      select: { id: true, title: true },
    });
    return rows.map(({ id, title }) => ({ value: id, text: title }));
  },
);
