/** Saves a draft. Two people's changes of different blocks are put together; else it is refused. */
import canonicalize from 'canonicalize';
import { z } from 'zod';
import { DOCUMENT_SCHEMA, type DocNode, withoutPlaced } from '@/lib/core/debrief/document';
import { mergeDocuments } from '@/lib/core/debrief/merge-documents';
import { DomainError } from '@/lib/core/result';
import { newId } from '../new-id';
import { checkedDocument } from '../publish/stored-document';
import { type CommandContext, defineCommand } from './define-command';

const input = z.object({
  sessionId: z.string().min(1),
  /** The version that the changes were made from. */
  version: z.int().positive(),
  title: z.string().trim().min(1, 'A debrief needs a title.').max(200),
  body: z.unknown(),
});

/**
 * `body` is given back where somebody else's changes were merged in; `withdrawnApprovals` is how many
 * approvals no longer hold, since what they approved is no longer what stands there.
 */
export type SavedDebrief = Readonly<{
  id: string;
  version: number;
  title: string;
  body: DocNode | null;
  withdrawnApprovals: number;
}>;

/** Saves come every few seconds: of the older ones every fiftieth is kept. */
const KEPT_SAVES = 200;
const KEPT_EVERY = 50;

const COLUMNS = { id: true, version: true, title: true, schema: true, body: true } as const;

const CHANGED = 'Somebody changed the same part of the draft meanwhile.';

/** What the saving person started from, while it is still kept. */
async function loadBase(
  { tx }: CommandContext,
  documentId: string,
  version: number,
): Promise<DocNode | null> {
  const row = await tx.documentRevision.findUnique({
    where: { documentId_version: { documentId, version } },
    select: { body: true },
  });
  return row === null ? null : checkedDocument(JSON.parse(row.body));
}

async function thinRevisions({ tx }: CommandContext, documentId: string, version: number) {
  const leaving = version - KEPT_SAVES;
  if (leaving < 1 || leaving % KEPT_EVERY === 0) return;
  await tx.documentRevision.deleteMany({ where: { documentId, version: leaving } });
}

type Stored = Readonly<{
  id: string;
  version: number;
  title: string;
  schema: number;
  body: string;
}>;

/** A change of the draft withdraws what was approved and is not published; the same again does not. */
async function withdrawApprovals(
  { tx, actor, now }: CommandContext,
  before: Stored,
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

export const saveDebrief = defineCommand({
  name: 'save-debrief',
  input,
  may: () => true,
  run: async (context, { sessionId, version, title, body }): Promise<SavedDebrief> => {
    const { tx, actor } = context;
    const mine = checkedDocument(body);
    const row = await tx.document.findFirst({
      where: { sessionId, session: { teamId: actor.teamId } },
      select: COLUMNS,
    });
    if (row === null) throw new DomainError('not-found', 'The draft is no longer there.');
    let doc = mine;
    if (row.version !== version) {
      const base = await loadBase(context, row.id, version);
      if (base === null || version > row.version)
        throw new DomainError('changed-meanwhile', CHANGED);
      const theirs = checkedDocument(JSON.parse(row.body), row.schema);
      const merge = mergeDocuments(base, theirs, mine);
      if (merge.conflicts.length > 0) throw new DomainError('changed-meanwhile', CHANGED);
      doc = merge.doc;
    }
    await tx.documentRevision.create({
      data: {
        id: newId(),
        documentId: row.id,
        version: row.version,
        body: row.body,
        savedBy: actor.name,
      },
      select: { id: true },
    });
    await thinRevisions(context, row.id, row.version);
    const withdrawnApprovals = await withdrawApprovals(context, row, { title, body: doc });
    const saved = await tx.document.update({
      where: { id: row.id },
      data: {
        version: row.version + 1,
        title,
        schema: DOCUMENT_SCHEMA,
        body: JSON.stringify(doc),
        updatedBy: actor.name,
      },
      select: { id: true, version: true, title: true },
    });
    return { ...saved, body: row.version === version ? null : doc, withdrawnApprovals };
  },
});
