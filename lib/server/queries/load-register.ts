/** Plans and rule sets as the register keeps them: entries with their versions, and who uses them. */
import { cache } from 'react';
import type { VersionedKind } from '@/lib/core/session/file-identity';
import { localActor } from '../actor';
import { db } from '../db';
import { versionTable } from '../version-table';
import { jobTrial, type KeptTrial } from './load-trial';

export type SessionUse = Readonly<{
  id: string;
  title: string;
  version: number;
  zeroTaiNs: string;
  createdAtIso: string;
}>;

export type VersionSummary = Readonly<{
  id: string;
  number: number;
  title: string;
  sha256: string;
  fileId: string | null;
  /** Empty for one that came with a session's folder. */
  author: string;
  reason: string;
  createdAtIso: string;
  sessions: readonly SessionUse[];
}>;

/** `versions`: newest first, at least one. */
export type RegisterEntry = Readonly<{
  kind: VersionedKind;
  entryId: string;
  title: string;
  versions: readonly VersionSummary[];
}>;

const COLUMNS = {
  id: true,
  entryId: true,
  number: true,
  title: true,
  sha256: true,
  fileId: true,
  author: true,
  reason: true,
  createdAt: true,
  sessions: {
    orderBy: { zeroTaiNs: 'desc' },
    select: { id: true, title: true, version: true, zeroTaiNs: true, createdAt: true },
  },
} as const;

function withTimes<Row extends Readonly<{ zeroTaiNs: bigint; createdAt: Date }>>(row: Row) {
  const { zeroTaiNs, createdAt, ...more } = row;
  return { ...more, zeroTaiNs: `${zeroTaiNs}`, createdAtIso: createdAt.toISOString() };
}

async function readEntries(kind: VersionedKind, entryId?: string): Promise<RegisterEntry[]> {
  const { teamId } = localActor();
  const rows = await versionTable(db(), kind).findMany({
    where: { teamId, ...(entryId === undefined ? {} : { entryId }) },
    orderBy: [{ number: 'desc' }],
    select: COLUMNS,
  });
  const entries = new Map<string, VersionSummary[]>();
  for (const { entryId: id, createdAt, ...row } of rows) {
    const sessions = row.sessions.map(withTimes);
    const version = { ...row, sessions, createdAtIso: createdAt.toISOString() };
    entries.set(id, [...(entries.get(id) ?? []), version]);
  }
  return [...entries]
    .map(([id, versions]) => ({
      kind,
      entryId: id,
      title: versions[0]?.title ?? '',
      versions,
    }))
    .sort((a, b) => newestIso(b).localeCompare(newestIso(a)));
}

function newestIso({ versions }: RegisterEntry): string {
  return versions[0]?.createdAtIso ?? '';
}

/** Every entry of one kind, the one changed last first. */
export const loadRegister = cache((kind: VersionedKind) => readEntries(kind));

export const loadEntry = cache(
  async (kind: VersionedKind, entryId: string): Promise<RegisterEntry | null> =>
    (await readEntries(kind, entryId))[0] ?? null,
);

/** The text of one version by its number; null where there is none. */
export async function loadVersionText(
  kind: VersionedKind,
  entryId: string,
  number: number,
): Promise<Readonly<{ title: string; text: string }> | null> {
  const where = { teamId: localActor().teamId, entryId, number };
  return versionTable(db(), kind).findFirst({ where, select: { title: true, text: true } });
}

/** Sessions to try a draft on, and which version of this kind each uses. */
export const loadTrialSessions = cache(async (kind: VersionedKind) => {
  const version = { select: { entryId: true, number: true, title: true } } as const;
  const rows = await db().session.findMany({
    where: { teamId: localActor().teamId, reconstructions: { some: {} } },
    orderBy: [{ zeroTaiNs: 'desc' }, { createdAt: 'desc' }],
    select: {
      id: true,
      title: true,
      version: true,
      zeroTaiNs: true,
      createdAt: true,
      planVersion: version,
      ruleSetVersion: version,
      versionUses: {
        where: { kind },
        orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
        take: 1,
        select: { author: true, reason: true, createdAt: true },
      },
    },
  });
  return rows.map(({ planVersion, ruleSetVersion, versionUses, ...row }) => {
    const last = versionUses[0];
    return {
      ...withTimes(row),
      used: kind === 'plan' ? planVersion : ruleSetVersion,
      chosen:
        last === undefined
          ? null
          : { author: last.author, reason: last.reason, atIso: last.createdAt.toISOString() },
    };
  });
});

/** Finished trials of an entry, newest first. */
export const loadEntryTrials = cache(async (entryId: string): Promise<readonly KeptTrial[]> => {
  const rows = await db().job.findMany({
    where: {
      teamId: localActor().teamId,
      kind: 'trial',
      state: 'done',
      input: { contains: `"entryId":"${entryId}"` },
    },
    orderBy: { createdAt: 'desc' },
    take: 50,
    select: { id: true, createdAt: true, result: true },
  });
  return rows.flatMap((row) => jobTrial(row) ?? []);
});

/** The rule set that judges a session, and the newest version of its entry. */
export const loadRulesInUse = cache(async (sessionId: string) => {
  const row = await db().session.findFirst({
    where: { id: sessionId, teamId: localActor().teamId },
    select: { ruleSetVersion: { select: { entryId: true, title: true, number: true } } },
  });
  const used = row?.ruleSetVersion ?? null;
  if (used === null) return null;
  const newest = await db().ruleSetVersion.findFirst({
    where: { entryId: used.entryId },
    orderBy: { number: 'desc' },
    select: { number: true },
  });
  return { ...used, newest: newest?.number ?? used.number };
});
