/** A short text that changes whenever a finding, an annotation or a recording of a session does. */
import { localActor } from '../actor';
import { db } from '../db';

/**
 * Not kept between calls: it is asked for again and again to see a change.
 *
 * @returns counts and sums of versions; null when the session is gone
 */
export async function loadRemarkStamp(sessionId: string): Promise<string | null> {
  const where = { sessionId, session: { teamId: localActor().teamId } };
  const [session, findings, annotations, recordings, reconstruction] = await Promise.all([
    db().session.findFirst({
      where: { id: sessionId, teamId: localActor().teamId },
      select: { id: true },
    }),
    db().finding.aggregate({ where, _count: true, _sum: { version: true } }),
    db().annotation.aggregate({ where, _count: true, _sum: { version: true } }),
    db().recording.aggregate({ where, _count: true, _sum: { version: true } }),
    db().reconstruction.count({ where }),
  ]);
  if (session === null) return null;
  return [
    findings._count,
    findings._sum.version ?? 0,
    annotations._count,
    annotations._sum.version ?? 0,
    recordings._count,
    recordings._sum.version ?? 0,
    reconstruction,
  ].join('.');
}
