/** The register of plans and rule sets: entries, their versions, and which sessions use them. */
import type { VersionedKind } from '../../core/session/file-identity';
import { stampText } from '../format-date';
import { plural } from '../format-number';
import { type NamedSession, sessionNames } from './session-names';

type Version = Readonly<{
  id: string;
  number: number;
  author: string;
  reason: string;
  createdAtIso: string;
  sessions: readonly NamedSession[];
}>;

/** As `loadRegister` gives it. */
export type EntryInput = Readonly<{
  kind: VersionedKind;
  entryId: string;
  title: string;
  versions: readonly Version[];
}>;

export type Link = Readonly<{ key: string; href: string; text: string }>;

export type VersionRow = Readonly<{
  id: string;
  number: number;
  author: string;
  when: string;
  reason: string;
  sessions: readonly Link[];
  moreSessions: number;
  editHref: string;
  exportHref: string;
  /** To the comparison with the version before; null for the first. */
  compareHref: string | null;
}>;

export type EntryRow = Readonly<{
  key: string;
  href: string;
  title: string;
  newest: string;
  when: string;
  author: string;
  reason: string;
  /** The versions before, newest first, one line each. */
  earlier: readonly Readonly<{ key: string; text: string }>[];
  /** Sessions by the version they use, newest version first. */
  use: string;
  sessions: readonly Link[];
  moreSessions: number;
}>;

/** So many sessions are named in one cell. */
const NAMED = 3;

export function entryHref(kind: VersionedKind, entryId: string): string {
  return `/plans/${kind}/${encodeURIComponent(entryId)}`;
}

function sessionLinks(
  sessions: readonly NamedSession[],
  named: number,
  names: ReadonlyMap<string, string>,
): readonly Link[] {
  return sessions.slice(0, named).map(({ id, title }) => ({
    key: id,
    href: `/sessions/${encodeURIComponent(id)}`,
    text: names.get(id) ?? title,
  }));
}

const authorText = (author: string): string =>
  author === '' ? 'came with a session folder' : author;

/** What a version of a kind is called. */
export const KIND_WORDS: Readonly<Record<VersionedKind, string>> = {
  plan: 'plan',
  rules: 'rule set',
  template: 'template',
};

/** The same, at the start of a line. */
export const KIND_NAMES: Readonly<Record<VersionedKind, string>> = {
  plan: 'Plan',
  rules: 'Rule set',
  template: 'Template',
};

/** What one thing of a version's list is called. */
export const ITEM_WORDS: Readonly<Record<VersionedKind, string>> = {
  plan: 'step',
  rules: 'rule',
  template: 'section',
};

/** A template that a debrief can be drafted by: the newest version of its entry. */
export type TemplateChoice = Readonly<{ id: string; label: string }>;

export function templateChoices(entries: readonly EntryInput[]): readonly TemplateChoice[] {
  return entries.flatMap(({ title, versions: [newest] }) =>
    newest === undefined ? [] : [{ id: newest.id, label: `${title}, version ${newest.number}` }],
  );
}

/** One row an entry, with its newest version. */
export function entryRows(entries: readonly EntryInput[]): readonly EntryRow[] {
  const names = sessionNames(
    entries.flatMap(({ versions }) => versions.flatMap(({ sessions }) => sessions)),
  );
  return entries.map(({ kind, entryId, title, versions }) => {
    const [newest] = versions;
    const sessions = versions.flatMap((version) => version.sessions);
    const older = versions.slice(1).flatMap((version) => version.sessions).length;
    const use =
      sessions.length === 0
        ? 'no session uses it'
        : `${plural(sessions.length, 'session')}${older === 0 ? '' : `, ${older} with an earlier version`}`;
    return {
      key: entryId,
      href: entryHref(kind, entryId),
      title,
      newest: `version ${newest?.number ?? 0}`,
      when: stampText(newest?.createdAtIso ?? ''),
      author: authorText(newest?.author ?? ''),
      reason: newest?.reason ?? '',
      earlier: versions
        .slice(1)
        .map(({ id, number, author, reason, createdAtIso, sessions: used }) => ({
          key: id,
          text: [
            `version ${number}, ${authorText(author)}, ${stampText(createdAtIso)}`,
            reason,
            used.length === 0 ? '' : `used by ${plural(used.length, 'session')}`,
          ]
            .filter((part) => part !== '')
            .join('; '),
        })),
      use,
      sessions: sessionLinks(sessions, NAMED, names),
      moreSessions: Math.max(0, sessions.length - NAMED),
    };
  });
}

/** Every version of one entry, newest first. */
export function versionRows(
  { kind, entryId, versions }: EntryInput,
  fileName: string,
): readonly VersionRow[] {
  const base = entryHref(kind, entryId);
  const names = sessionNames(versions.flatMap(({ sessions }) => sessions));
  return versions.map(({ id, number, author, reason, createdAtIso, sessions }, at) => {
    const before = versions[at + 1];
    return {
      id,
      number,
      author: authorText(author),
      when: stampText(createdAtIso),
      reason,
      sessions: sessionLinks(sessions, 20, names),
      moreSessions: Math.max(0, sessions.length - 20),
      editHref: `${base}/edit?from=${number}`,
      exportHref: `${base}/${number}/${fileName}`,
      compareHref:
        before === undefined ? null : `${base}/compare?from=${before.number}&to=${number}`,
    };
  });
}

export type UseRow = Readonly<{
  sessionId: string;
  version: number;
  title: string;
  href: string;
  usedText: string;
  usedNumber: number | null;
  /** Who put it in use, when and why; null where it came with the session's folder. */
  chosen: Readonly<{ by: string; reason: string }> | null;
}>;

/** As `loadTrialSessions` gives it. */
export type SessionInput = NamedSession &
  Readonly<{
    version: number;
    used: Readonly<{ entryId: string; number: number; title: string }> | null;
    /** The last time somebody put a version in use. */
    chosen: Readonly<{ author: string; reason: string; atIso: string }> | null;
  }>;

/** Sessions that a draft may be tried on, by names that tell them apart; `isOwn`: it uses the entry. */
export function trialChoices(
  sessions: readonly SessionInput[],
  entryId: string | null,
): readonly Readonly<{ id: string; title: string; isOwn: boolean }>[] {
  const names = sessionNames(sessions);
  return sessions.map(({ id, title, used }) => ({
    id,
    title: names.get(id) ?? title,
    isOwn: entryId !== null && used?.entryId === entryId,
  }));
}

/** Sessions that use the entry first; the others may be given it. */
export function usageRows(
  entryId: string,
  sessions: readonly SessionInput[],
): Readonly<{ own: readonly UseRow[]; others: readonly UseRow[] }> {
  const names = sessionNames(sessions);
  const row = ({ id, title, version, used, chosen }: SessionInput): UseRow => {
    const isOwn = used?.entryId === entryId;
    const other = used === null ? 'none' : `${used.title}, version ${used.number}`;
    return {
      sessionId: id,
      version,
      title: names.get(id) ?? title,
      href: `/sessions/${encodeURIComponent(id)}`,
      usedText: isOwn ? `version ${used.number}` : other,
      usedNumber: isOwn ? used.number : null,
      chosen:
        chosen === null
          ? null
          : { by: `${chosen.author}, ${stampText(chosen.atIso)}`, reason: chosen.reason },
    };
  };
  const rows = sessions.map(row);
  return {
    own: rows.filter(({ usedNumber }) => usedNumber !== null),
    others: rows.filter(({ usedNumber }) => usedNumber === null),
  };
}

/** Why another version was not put in use, where the row beside the form already shows what stands. */
export function refusedUse({ code, message }: Readonly<{ code: string; message: string }>): string {
  return code === 'changed-meanwhile'
    ? 'Somebody changed the session or put another version in use meanwhile, and nothing of that was overwritten. Look at what it uses now, then send yours again.'
    : message;
}
