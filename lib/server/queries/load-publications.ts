/** Published debriefs. */
import { cache } from 'react';
import { localActor } from '../actor';
import { shownApprovals } from '../approval-rows';
import { db } from '../db';
import { type PublicationAct, publicationActs } from '../publication-acts';

export type PublicationSummary = Readonly<{
  id: string;
  /** Null when the session was removed; the publication stays. */
  sessionId: string | null;
  sessionTitle: string | null;
  isDemo: boolean;
  number: number;
  revision: number;
  title: string;
  sha256: string;
  previousSha256: string | null;
  /** What the team calls it; empty in older ones. */
  designation: string;
  publishedBy: string;
  publishedAtIso: string;
  /** Null while it stands. */
  withdrawn: Readonly<{ atIso: string; by: string; reason: string }> | null;
  /** Withdrawals that were taken back, with the taking back, oldest first. */
  earlierActs: readonly PublicationAct[];
  approvals: readonly Readonly<{ role: string; name: string }>[];
  /** Folder under the published root with the record and its exports. */
  folder: string;
  /** True when a higher revision of the same number exists. */
  isSuperseded: boolean;
}>;

export type PublicationFileRow = Readonly<{
  name: string;
  mediaType: string;
  sha256: string;
  bytes: number;
}>;

export type Publication = PublicationSummary &
  Readonly<{
    files: readonly PublicationFileRow[];
  }>;

const COLUMNS = {
  id: true,
  sessionId: true,
  number: true,
  revision: true,
  title: true,
  sha256: true,
  previousSha256: true,
  designation: true,
  publishedBy: true,
  publishedAt: true,
  withdrawnAt: true,
  withdrawnBy: true,
  withdrawnReason: true,
  earlierActs: true,
  approvals: true,
  folder: true,
  session: { select: { title: true, origin: true } },
} as const;

type Row = Readonly<{
  id: string;
  sessionId: string | null;
  number: number;
  revision: number;
  title: string;
  sha256: string;
  previousSha256: string | null;
  designation: string;
  publishedBy: string;
  publishedAt: Date;
  withdrawnAt: Date | null;
  withdrawnBy: string | null;
  withdrawnReason: string | null;
  earlierActs: string;
  approvals: string;
  folder: string;
  session: Readonly<{ title: string; origin: string }> | null;
}>;

function summaryOf(row: Row, newestRevision: number): PublicationSummary {
  return {
    id: row.id,
    sessionId: row.sessionId,
    sessionTitle: row.session?.title ?? null,
    isDemo: row.session?.origin === 'demo',
    number: row.number,
    revision: row.revision,
    title: row.title,
    sha256: row.sha256,
    previousSha256: row.previousSha256,
    publishedBy: row.publishedBy,
    publishedAtIso: row.publishedAt.toISOString(),
    designation: row.designation,
    withdrawn:
      row.withdrawnAt === null
        ? null
        : {
            atIso: row.withdrawnAt.toISOString(),
            by: row.withdrawnBy ?? '',
            reason: row.withdrawnReason ?? '',
          },
    earlierActs: publicationActs(row.earlierActs),
    approvals: shownApprovals(row.approvals),
    folder: row.folder,
    isSuperseded: row.revision < newestRevision,
  };
}

/** All publications, highest number and newest revision first. */
export const loadPublications = cache(async (): Promise<PublicationSummary[]> => {
  const rows = await db().publication.findMany({
    where: { teamId: localActor().teamId },
    orderBy: [{ number: 'desc' }, { revision: 'desc' }],
    select: COLUMNS,
  });
  const newest = new Map<number, number>();
  for (const row of rows) {
    newest.set(row.number, Math.max(row.revision, newest.get(row.number) ?? 0));
  }
  return rows.map((row) => summaryOf(row, newest.get(row.number) ?? row.revision));
});

/** One revision of one publication with its files. */
export const loadPublication = cache(
  async (number: number, revision: number): Promise<Publication | null> => {
    const where = { teamId: localActor().teamId, number };
    const row = await db().publication.findFirst({
      where: { ...where, revision },
      select: {
        ...COLUMNS,
        files: {
          orderBy: { name: 'asc' },
          select: { name: true, mediaType: true, sha256: true, bytes: true },
        },
      },
    });
    if (row === null) return null;
    const newest = await db().publication.aggregate({ where, _max: { revision: true } });
    return {
      ...summaryOf(row, newest._max.revision ?? revision),
      files: row.files.map((file) => ({ ...file, bytes: Number(file.bytes) })),
    };
  },
);
