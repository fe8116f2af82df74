/**
 * Saves a plan, rule set or template as a new version: of an entry of the register, or as the first of a new
 * one. No version is ever changed, and one that somebody else saved meanwhile is never passed over.
 */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import type { VersionedKind } from '@/lib/core/session/file-identity';
import { newId } from '../new-id';
import { type ReadVersion, readVersion } from '../read-version';
import { toJson } from '../rows';
import { MOST_LETTERS } from '../trials/trial-input';
import { versionTable } from '../version-table';
import { reasonInput } from './correction-input';
import { type CommandContext, defineCommand } from './define-command';

const input = z.object({
  kind: z.enum(['plan', 'rules', 'template']),
  /** null for the first version of a new entry. */
  entryId: z.string().min(1).nullable(),
  /** Number of the newest version that the person has seen; 0 for a new entry. */
  version: z.int().min(0),
  text: z.string().min(1, 'There is nothing in it.').max(MOST_LETTERS, 'It is too long.'),
  reason: reasonInput,
});

const WORDS: Readonly<Record<VersionedKind, string>> = {
  plan: 'plan',
  rules: 'rule set',
  template: 'template',
};

type Version = Readonly<{ id: string; entryId: string; number: number }>;

/** Refuses bytes that are a version already, and an id that is another entry's. */
async function refuseKnown(
  { tx, actor }: CommandContext,
  { kind, entryId }: Readonly<{ kind: VersionedKind; entryId: string | null }>,
  { sha256, fileId }: ReadVersion,
): Promise<void> {
  const { teamId } = actor;
  const select = { title: true, number: true, entryId: true } as const;
  const same = await versionTable(tx, kind).findFirst({ where: { teamId, sha256 }, select });
  if (same !== null) {
    const message =
      same.entryId === entryId
        ? `This is version ${same.number} to the letter: use that one.`
        : `This is version ${same.number} of ${same.title} to the letter.`;
    throw new DomainError('version-there', message);
  }
  if (fileId === null) return;
  const where = { teamId, fileId, ...(entryId === null ? {} : { entryId: { not: entryId } }) };
  const other = await versionTable(tx, kind).findFirst({ where, select });
  if (other === null) return;
  const message = `The id ${fileId} is that of the ${WORDS[kind]} ${other.title}: save it there, or take another id.`;
  throw new DomainError('id-elsewhere', message);
}

/** The newest version of an entry. */
async function newestOf({ tx, actor }: CommandContext, kind: VersionedKind, entryId: string) {
  return versionTable(tx, kind).findFirst({
    where: { teamId: actor.teamId, entryId },
    orderBy: { number: 'desc' },
    select: { id: true, number: true, title: true, author: true, reason: true, createdAt: true },
  });
}

export const saveVersion = defineCommand({
  name: 'save-version',
  input,
  may: () => true,
  version: {
    expected: ({ version }) => version,
    load: async (context, { kind, entryId }) => {
      if (entryId === null) return { version: 0, value: null };
      const row = await newestOf(context, kind, entryId);
      if (row === null) return null;
      const { number, author, reason, createdAt } = row;
      return { version: number, value: { number, author, reason, atIso: createdAt.toISOString() } };
    },
  },
  run: async (context, { kind, entryId, version, text, reason }): Promise<Version> => {
    const { tx, actor, now } = context;
    const read = readVersion(kind, text);
    await refuseKnown(context, { kind, entryId }, read);
    const newest = entryId === null ? null : await newestOf(context, kind, entryId);
    const title = read.title ?? newest?.title ?? null;
    if (title === null)
      throw new DomainError('title-missing', `A new ${WORDS[kind]} needs a title.`);
    return versionTable(tx, kind).create({
      data: {
        id: newId(),
        teamId: actor.teamId,
        entryId: entryId ?? newId(),
        number: version + 1,
        title,
        sha256: read.sha256,
        text,
        body: toJson(read.value),
        fileId: read.fileId,
        author: actor.name,
        reason,
        createdAt: now,
      },
      select: { id: true, entryId: true, number: true },
    });
  },
});
