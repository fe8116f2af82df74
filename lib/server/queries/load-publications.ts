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
  /** Highest revision of the same number. */
  newestRevision: number;
  /** The highest that was not withdrawn; the highest of all where none stands. */
  leadingRevision: number;
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

/** What is known of all revisions of one number. */
type Standing = Pick<PublicationSummary, 'newestRevision' | 'leadingRevision'>;

function standingOf(
  revisions: readonly Readonly<{ revision: number; withdrawnAt: Date | null }>[],
): Standing {
  const highest = (rows: typeof revisions) => Math.max(...rows.map(({ revision }) => revision));
  const standing = revisions.filter(({ withdrawnAt }) => withdrawnAt === null);
  const newestRevision = highest(revisions);
  return {
    newestRevision,
    leadingRevision: standing.length === 0 ? newestRevision : highest(standing),
  };
}

function summaryOf(row: Row, standing: Standing): PublicationSummary {
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
    ...standing,
  };
}

/** All publications, highest number and newest revision first. */
export const loadPublications = cache(async (): Promise<PublicationSummary[]> => {
  const rows = await db().publication.findMany({
    where: { teamId: localActor().teamId },
    orderBy: [{ number: 'desc' }, { revision: 'desc' }],
    select: COLUMNS,
  });
  const numbers = new Map<number, Row[]>();
  for (const row of rows) numbers.set(row.number, [...(numbers.get(row.number) ?? []), row]);
  return [...numbers.values()].flatMap((revisions) => {
    const standing = standingOf(revisions);
    return revisions.map((row) => summaryOf(row, standing));
  });
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
    const revisions = await db().publication.findMany({
      where,
      select: { revision: true, withdrawnAt: true },
    });
    return {
      ...summaryOf(row, standingOf(revisions)),
      files: row.files.map((file) => ({ ...file, bytes: Number(file.bytes) })),
    };
  },
);
