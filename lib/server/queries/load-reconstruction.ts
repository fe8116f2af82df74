/** The newest reconstruction of a session and where its derived columns lie. */
import { cache } from 'react';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { localActor } from '../actor';
import { db } from '../db';
import { reconstructionFromBody } from '../rows';

export const loadReconstruction = cache(
  async (sessionId: string): Promise<Reconstruction | null> => {
    const row = await db().reconstruction.findFirst({
      where: { sessionId, session: { teamId: localActor().teamId } },
      orderBy: { createdAt: 'desc' },
      select: { body: true },
    });
    return row === null ? null : reconstructionFromBody(row.body);
  },
);

/** Name of the folder under the samples root with the derived columns of the newest reconstruction. */
export const loadDerivedFolder = cache(async (sessionId: string): Promise<string | null> => {
  const row = await db().reconstruction.findFirst({
    where: { sessionId, session: { teamId: localActor().teamId } },
    orderBy: { createdAt: 'desc' },
    select: { derivedFolder: true },
  });
  return row?.derivedFolder ?? null;
});
