/** The list of sessions. */
import { cache } from 'react';
import type { Verdict } from '@/lib/core/reconstruction/reconstruction';
import { localActor } from '../actor';
import { db } from '../db';
import { reconstructionFromBody, sessionKindSchema } from '../rows';

export type SessionSummary = Readonly<{
  id: string;
  version: number;
  title: string;
  kind: 'flight' | 'simulation';
  zeroUtc: string;
  isDemo: boolean;
  createdAtIso: string;
  planTitle: string | null;
  sourceCount: number;
  findingCount: number;
  publicationCount: number;
  /** From the newest reconstruction; null where there is none yet. */
  outcome: SessionOutcome | null;
}>;

export type SessionOutcome = Readonly<{
  durationS: number | null;
  contactS: number | null;
  exceedanceCount: number;
  verdictCounts: Readonly<Record<Verdict, number>>;
}>;

/** All sessions of the team, newest flight first. */
export const loadSessions = cache(async (): Promise<SessionSummary[]> => {
  const rows = await db().session.findMany({
    where: { teamId: localActor().teamId },
    orderBy: [{ zeroTaiNs: 'desc' }, { createdAt: 'desc' }],
    select: {
      id: true,
      version: true,
      title: true,
      kind: true,
      zeroUtc: true,
      origin: true,
      createdAt: true,
      planVersion: { select: { title: true } },
      _count: { select: { sources: true, findings: true, publications: true } },
      reconstructions: { orderBy: { createdAt: 'desc' }, take: 1, select: { body: true } },
    },
  });
  return rows.map((row) => ({
    id: row.id,
    version: row.version,
    title: row.title,
    kind: sessionKindSchema.parse(row.kind),
    zeroUtc: row.zeroUtc,
    isDemo: row.origin === 'demo',
    createdAtIso: row.createdAt.toISOString(),
    planTitle: row.planVersion?.title ?? null,
    sourceCount: row._count.sources,
    findingCount: row._count.findings,
    publicationCount: row._count.publications,
    outcome: outcomeOf(row.reconstructions[0]?.body),
  }));
});

function outcomeOf(body: string | undefined): SessionOutcome | null {
  if (body === undefined) return null;
  const reconstruction = reconstructionFromBody(body);
  const verdictCounts: Record<Verdict, number> = {
    met: 0,
    broken: 0,
    undecided: 0,
    'not applicable': 0,
    'not evaluated': 0,
  };
  for (const rule of reconstruction.rules) verdictCounts[rule.verdict] += 1;
  return {
    durationS: reconstruction.session.durationS.value,
    contactS: reconstruction.contact?.timeS.value ?? null,
    exceedanceCount: reconstruction.exceedances.length,
    verdictCounts,
  };
}
