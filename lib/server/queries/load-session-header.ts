/** What stands over every screen of a session. */
import { cache } from 'react';
import { localActor } from '../actor';
import { db } from '../db';
import { sessionKindSchema } from '../rows';

export type SessionHeader = Readonly<{
  id: string;
  title: string;
  kind: 'flight' | 'simulation';
  zeroUtc: string;
  /** Integer TAI nanoseconds, as text because JSON has no such number. */
  zeroTaiNs: string;
  isDemo: boolean;
  planTitle: string | null;
  planNumber: number | null;
  ruleSetTitle: string | null;
  ruleSetNumber: number | null;
  version: number;
  /** Edition of its files, from 1. */
  filesNumber: number;
  /** How many reconstructions it has; a second one can be held against the first. */
  timesComputed: number;
  createdAtIso: string;
}>;

export const loadSessionHeader = cache(async (sessionId: string): Promise<SessionHeader | null> => {
  const row = await db().session.findFirst({
    where: { id: sessionId, teamId: localActor().teamId },
    select: {
      id: true,
      title: true,
      kind: true,
      zeroUtc: true,
      zeroTaiNs: true,
      origin: true,
      version: true,
      filesNumber: true,
      createdAt: true,
      _count: { select: { reconstructions: true } },
      planVersion: { select: { title: true, number: true } },
      ruleSetVersion: { select: { title: true, number: true } },
    },
  });
  if (row === null) return null;
  return {
    id: row.id,
    title: row.title,
    kind: sessionKindSchema.parse(row.kind),
    zeroUtc: row.zeroUtc,
    zeroTaiNs: row.zeroTaiNs.toString(),
    isDemo: row.origin === 'demo',
    planTitle: row.planVersion?.title ?? null,
    planNumber: row.planVersion?.number ?? null,
    ruleSetTitle: row.ruleSetVersion?.title ?? null,
    ruleSetNumber: row.ruleSetVersion?.number ?? null,
    version: row.version,
    filesNumber: row.filesNumber,
    timesComputed: row._count.reconstructions,
    createdAtIso: row.createdAt.toISOString(),
  };
});
