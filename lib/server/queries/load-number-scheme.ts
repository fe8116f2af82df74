/** What the team calls its debriefs. */
import { cache } from 'react';
import { USUAL_SCHEME } from '@/lib/core/debrief/number-scheme';
import { localActor } from '../actor';
import { db } from '../db';

export const loadNumberScheme = cache(async (): Promise<string> => {
  const where = { id: localActor().teamId };
  const team = await db().team.findUnique({ where, select: { numberScheme: true } });
  return team?.numberScheme ?? USUAL_SCHEME;
});
