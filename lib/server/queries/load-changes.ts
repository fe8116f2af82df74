/** What the newest reconstruction of a session says otherwise than the one before it. */
import { cache } from 'react';
import type { TouchedNumber } from '@/lib/core/debrief/touched-numbers';
import { type Changes, findChanges } from '@/lib/core/reconstruction/changed-figures';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { localActor } from '../actor';
import { db } from '../db';
import { loadRecord } from '../publish/load-record';
import { reconstructionFromBody } from '../rows';
import { loadPublications } from './load-publications';
import { loadTouchedNumbers } from './load-touched';
import { readVersionUses, type VersionUse } from './load-version-uses';

export type TouchedPublication = Readonly<{
  number: number;
  revision: number;
  title: string;
  /** null where the stored record is missing or damaged. */
  numbers: readonly TouchedNumber[] | null;
}>;

export type ReplacedFile = Readonly<{
  file: string;
  number: number;
  sha256: string;
  earlierSha256: string;
}>;

export type SessionChanges = Readonly<{
  /** Why it was computed again: another program version, or other inputs. */
  cause: 'inputs' | 'engine';
  computedAtIso: string;
  files: readonly ReplacedFile[];
  /** Versions of plan and rules that were put in use in between, oldest first. */
  versions: readonly VersionUse[];
  before: Reconstruction;
  after: Reconstruction;
  changes: Changes;
  publications: readonly TouchedPublication[];
}>;

/** Files that were replaced after the reconstruction before the newest. */
async function replacedFiles(sessionId: string, since: Date): Promise<readonly ReplacedFile[]> {
  const rows = await db().sourceVersion.findMany({
    where: {
      sessionId,
      superseded: null,
      supersedesId: { not: null },
      createdAt: { gt: since },
    },
    orderBy: { file: 'asc' },
    select: { file: true, number: true, sha256: true, supersedes: { select: { sha256: true } } },
  });
  return rows.map(({ file, number, sha256, supersedes }) => ({
    file,
    number,
    sha256,
    earlierSha256: supersedes?.sha256 ?? '',
  }));
}

/** The revision that stands of each debrief of the session, with what it quotes and no longer holds. */
async function touchedPublications(sessionId: string): Promise<readonly TouchedPublication[]> {
  const all = await loadPublications();
  const own = all.filter(
    (each) => each.sessionId === sessionId && each.revision === each.leadingRevision,
  );
  return Promise.all(
    own.map(async ({ number, revision, title }) => {
      const record = (await loadRecord(number, revision))?.record ?? null;
      const numbers = record === null ? null : await loadTouchedNumbers(sessionId, record);
      return { number, revision, title, numbers };
    }),
  );
}

/** @returns null where the session has been computed once only */
export const loadChanges = cache(async (sessionId: string): Promise<SessionChanges | null> => {
  const [newest, before] = await db().reconstruction.findMany({
    where: { sessionId, session: { teamId: localActor().teamId } },
    orderBy: { createdAt: 'desc' },
    take: 2,
    select: { inputsSha256: true, body: true, createdAt: true },
  });
  if (newest === undefined || before === undefined) return null;
  const [older, newer] = [reconstructionFromBody(before.body), reconstructionFromBody(newest.body)];
  return {
    cause: newest.inputsSha256 === before.inputsSha256 ? 'engine' : 'inputs',
    computedAtIso: newest.createdAt.toISOString(),
    files: await replacedFiles(sessionId, before.createdAt),
    versions: await readVersionUses(sessionId, before.createdAt),
    before: older,
    after: newer,
    changes: findChanges(older, newer),
    publications: await touchedPublications(sessionId),
  };
});
