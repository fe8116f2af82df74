/** Which versions of plan and rules a session was read with, and what that means for decisions. */
import { cache } from 'react';
import type { InputKind } from '@/lib/core/session/file-identity';
import { localActor } from '../actor';
import { db } from '../db';
import { fromJson } from '../rows';
import { versionedKind } from '../trials/trial-input';
import { versionTable } from '../version-table';
import { loadDispositions } from './load-corrections';

/** Another version was put in use. A number is null where the version is no longer kept. */
export type VersionUse = Readonly<{
  kind: InputKind;
  entryId: string | null;
  title: string;
  from: number | null;
  to: number | null;
  author: string;
  reason: string;
  atIso: string;
}>;

async function usesOf(sessionId: string) {
  return db().versionUse.findMany({
    where: { sessionId, session: { teamId: localActor().teamId } },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    select: {
      kind: true,
      fromVersionId: true,
      toVersionId: true,
      author: true,
      reason: true,
      createdAt: true,
    },
  });
}

/** Oldest first; those after a time where one is given. */
export async function readVersionUses(
  sessionId: string,
  since: Date | null,
): Promise<readonly VersionUse[]> {
  const rows = await usesOf(sessionId);
  const shown = since === null ? rows : rows.filter(({ createdAt }) => createdAt > since);
  return Promise.all(
    shown.map(async ({ kind: word, fromVersionId, toVersionId, author, reason, createdAt }) => {
      const kind = versionedKind.parse(word);
      const numbered = (id: string | null) =>
        versionTable(db(), kind).findFirst({
          where: { id: id ?? '' },
          select: { number: true, title: true, entryId: true },
        });
      const [from, to] = await Promise.all([numbered(fromVersionId), numbered(toVersionId)]);
      return {
        kind,
        entryId: to?.entryId ?? null,
        title: to?.title ?? from?.title ?? '',
        from: from?.number ?? null,
        to: to?.number ?? null,
        author,
        reason,
        atIso: createdAt.toISOString(),
      };
    }),
  );
}

/** A decision about a rule that reads otherwise, or is not there, in the rules now in use. */
export type ChangedSince = Readonly<{
  rule: string;
  disposition: 'waived' | 'amended';
  change: 'dropped' | 'altered';
  entryId: string;
  from: number;
  to: number;
}>;

type Rules = Readonly<{ number: number; entryId: string; words: ReadonlyMap<string, string> }>;

async function rulesOf(versionId: string | null): Promise<Rules | null> {
  if (versionId === null) return null;
  const row = await db().ruleSetVersion.findUnique({
    where: { id: versionId },
    select: { number: true, entryId: true, body: true },
  });
  if (row === null) return null;
  const body = fromJson(row.body);
  const words = new Map<string, string>();
  for (const rule of Array.isArray(body) ? body : []) {
    const id: unknown = Reflect.get(Object(rule), 'id');
    if (typeof id === 'string') words.set(id, JSON.stringify(rule));
  }
  return { number: row.number, entryId: row.entryId, words };
}

/**
 * Standing decisions whose rule has changed since they were made: each is bound to its rule's id, and
 * was made in view of the rules that were in use then.
 */
export const loadChangedSince = cache(
  async (sessionId: string): Promise<readonly ChangedSince[]> => {
    const uses = (await usesOf(sessionId)).filter(({ kind }) => kind === 'rules');
    if (uses.length === 0) return [];
    const session = await db().session.findUnique({
      where: { id: sessionId },
      select: { ruleSetVersionId: true },
    });
    const now = await rulesOf(session?.ruleSetVersionId ?? null);
    if (now === null) return [];
    const standing = (await loadDispositions(sessionId)).filter(({ undone }) => undone === null);
    const changed: ChangedSince[] = [];
    for (const { correction, createdAtIso: saidAtIso } of standing) {
      // What came with the folder was said before any version was put in use here.
      const createdAtIso = saidAtIso ?? '';
      const { rule, disposition } = correction;
      const later = uses.find(({ createdAt }) => createdAt.toISOString() > createdAtIso);
      const then = later === undefined ? null : await rulesOf(later.fromVersionId);
      const [before, after] = [then?.words.get(rule), now.words.get(rule)];
      if (then === null || before === undefined || before === after) continue;
      const change = after === undefined ? 'dropped' : 'altered';
      const { entryId, number: to } = now;
      changed.push({ rule, disposition, change, entryId, from: then.number, to });
    }
    return changed;
  },
);
