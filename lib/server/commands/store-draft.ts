/** Writes a draft: the version before it is kept, and approvals of what it said are withdrawn. */
import canonicalize from 'canonicalize';
import { DOCUMENT_SCHEMA, type DocNode, withoutPlaced } from '@/lib/core/debrief/document';
import { newId } from '../new-id';
import { checkedDocument } from '../publish/stored-document';
import type { CommandContext } from './define-command';

/** Saves come every few seconds: of the older ones every fiftieth is kept. */
const KEPT_SAVES = 200;
const KEPT_EVERY = 50;

/** The columns of a draft that is about to be written over. */
export const DRAFT_COLUMNS = {
  id: true,
  version: true,
  title: true,
  schema: true,
  body: true,
} as const;

export type StoredDraft = Readonly<{
  id: string;
  version: number;
  title: string;
  schema: number;
  body: string;
}>;

export type WrittenDraft = Readonly<{
  id: string;
  version: number;
  title: string;
  /** How many approvals no longer hold. */
  withdrawnApprovals: number;
}>;

async function thinRevisions({ tx }: CommandContext, documentId: string, version: number) {
  const leaving = version - KEPT_SAVES;
  if (leaving < 1 || leaving % KEPT_EVERY === 0) return;
  await tx.documentRevision.deleteMany({ where: { documentId, version: leaving } });
}

/** A change of the draft withdraws what was approved and is not published; the same again does not. */
async function withdrawApprovals(
  { tx, actor, now }: CommandContext,
  before: StoredDraft,
  after: Readonly<{ title: string; body: DocNode }>,
): Promise<number> {
  const where = { documentId: before.id, withdrawnAt: null, publishedAt: null };
  if ((await tx.approval.count({ where })) === 0) return 0;
  const body = checkedDocument(JSON.parse(before.body), before.schema);
  const read = (draft: Readonly<{ title: string; body: DocNode }>) =>
    canonicalize({ title: draft.title, body: withoutPlaced(draft.body) });
  if (read({ title: before.title, body }) === read(after)) return 0;
  const withdrawnReason = `The draft was changed: version ${before.version + 1}.`;
  const data = { withdrawnAt: now, withdrawnBy: actor.name, withdrawnReason };
  return (await tx.approval.updateMany({ where, data })).count;
}

/**
 * Writes a draft in place of what is stored.
 *
 * @param before the row as it was read in the same transaction
 * @param after title and text, already checked
 */
export async function storeDraft(
  context: CommandContext,
  before: StoredDraft,
  after: Readonly<{ title: string; body: DocNode }>,
): Promise<WrittenDraft> {
  const { tx, actor } = context;
  await tx.documentRevision.create({
    data: {
      id: newId(),
      documentId: before.id,
      version: before.version,
      body: before.body,
      savedBy: actor.name,
    },
    select: { id: true },
  });
  await thinRevisions(context, before.id, before.version);
  const withdrawnApprovals = await withdrawApprovals(context, before, after);
  const saved = await tx.document.update({
    where: { id: before.id },
    data: {
      version: before.version + 1,
      title: after.title,
      schema: DOCUMENT_SCHEMA,
      body: JSON.stringify(after.body),
      updatedBy: actor.name,
    },
    select: { id: true, version: true, title: true },
  });
  return { ...saved, withdrawnApprovals };
}
