/** The source files of a session. */
import { cache } from 'react';
import type { SourceSpec } from '@/lib/core/session/session-file';
import { localActor } from '../actor';
import { db } from '../db';
import { sourceSpecFromJson, sourceTypeSchema } from '../rows';

export type SourceRow = Readonly<{
  id: string;
  file: string;
  type: 'telemetry' | 'events' | 'ephemeris';
  sha256: string;
  bytes: number;
  /** Version of this file in this session, from 1. */
  number: number;
  /** Folder under the samples root; empty for a source that has no samples. */
  folder: string;
  /** Rows, rejects, channels, seconds per stage, as the reader wrote it. */
  report: unknown;
  declared: SourceSpec;
  /** When it came, if that was after the session was made; null for one that came with it. */
  lateAtIso: string | null;
}>;

/** A session and the sources it came with are written in one transaction. */
const LATE_AFTER_MS = 60_000;

/** Sources in the order of their names; of each file the newest version. */
export const loadSources = cache(async (sessionId: string): Promise<SourceRow[]> => {
  const rows = await db().sourceVersion.findMany({
    where: { sessionId, superseded: null, session: { teamId: localActor().teamId } },
    orderBy: { file: 'asc' },
    select: {
      id: true,
      file: true,
      type: true,
      sha256: true,
      bytes: true,
      number: true,
      folder: true,
      report: true,
      declared: true,
      createdAt: true,
      session: { select: { createdAt: true } },
    },
  });
  return rows.map(({ createdAt, session, ...row }) => ({
    ...row,
    type: sourceTypeSchema.parse(row.type),
    bytes: Number(row.bytes),
    report: JSON.parse(row.report),
    declared: sourceSpecFromJson(row.declared),
    lateAtIso:
      createdAt.getTime() - session.createdAt.getTime() > LATE_AFTER_MS
        ? createdAt.toISOString()
        : null,
  }));
});
