/** Arrangements of the timeline that the team has kept. */
import { cache } from 'react';
import { localActor } from '../actor';
import { db } from '../db';

export const ARRANGEMENT_COLUMNS = { id: true, version: true, name: true, query: true } as const;

/** `query`: strips and axis as they stand in an address. */
export type Arrangement = Readonly<{ id: string; version: number; name: string; query: string }>;

/** By name, without removed ones. */
export const loadArrangements = cache(
  (): Promise<Arrangement[]> =>
    db().arrangement.findMany({
      where: { teamId: localActor().teamId, removedAt: null },
      orderBy: { name: 'asc' },
      select: ARRANGEMENT_COLUMNS,
    }),
);
