/** Saves a draft. Two people's changes of different blocks are put together; else it is refused. */
import { z } from 'zod';
import type { DocNode } from '@/lib/core/debrief/document';
import { mergeDocuments } from '@/lib/core/debrief/merge-documents';
import { DomainError } from '@/lib/core/result';
import { checkedDocument } from '../publish/stored-document';
import { type CommandContext, defineCommand } from './define-command';
import { DRAFT_COLUMNS, storeDraft, type WrittenDraft } from './store-draft';

const input = z.object({
  sessionId: z.string().min(1),
  /** The version that the changes were made from. */
  version: z.int().positive(),
  title: z.string().trim().min(1, 'A debrief needs a title.').max(200),
  body: z.unknown(),
});

/** `body` is given back where somebody else's changes were merged in. */
export type SavedDebrief = WrittenDraft & Readonly<{ body: DocNode | null }>;

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

export const saveDebrief = defineCommand({
  name: 'save-debrief',
  input,
  may: () => true,
  run: async (context, { sessionId, version, title, body }): Promise<SavedDebrief> => {
    const { tx, actor } = context;
    const mine = checkedDocument(body);
    const row = await tx.document.findFirst({
      where: { sessionId, session: { teamId: actor.teamId } },
      select: DRAFT_COLUMNS,
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
    const saved = await storeDraft(context, row, { title, body: doc });
    return { ...saved, body: row.version === version ? null : doc };
  },
});
