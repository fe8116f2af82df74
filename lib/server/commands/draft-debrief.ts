/** Writes a session's first draft from its reconstruction and findings. */
import { z } from 'zod';
import { DOCUMENT_SCHEMA, type DocNode } from '@/lib/core/debrief/document';
import { draftDebrief as draft } from '@/lib/core/debrief/draft';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { DomainError, invariant } from '@/lib/core/result';
import { newId } from '../new-id';
import { loadMaterialOutline, outlineMaterial } from '../publish/load-material';
import { defineCommand } from './define-command';

type Prepared = Readonly<{ doc: DocNode; title: string }>;

export const draftDebrief = defineCommand({
  name: 'draft-debrief',
  input: z.object({ sessionId: z.string().min(1) }),
  may: () => true,
  prepare: async (_request, { sessionId }): Promise<Prepared> => {
    const outline = await loadMaterialOutline(sessionId);
    if (outline === null) {
      throw new DomainError('not-reconstructed', 'The session has no reconstruction yet.');
    }
    const material = await outlineMaterial(outline);
    const { title } = outline.parts.reconstruction.session;
    return {
      doc: draft(material, BUILT_IN_BLOCKS, newId),
      title: `Debrief of ${title}`.slice(0, 200),
    };
  },
  run: async (
    { tx, actor },
    { sessionId },
    prepared,
  ): Promise<Readonly<{ id: string; version: number }>> => {
    invariant(prepared !== null, 'a draft is prepared');
    const there = await tx.document.findUnique({ where: { sessionId }, select: { id: true } });
    if (there !== null) {
      throw new DomainError('draft-is-there', 'This session has a draft already.');
    }
    return tx.document.create({
      data: {
        id: newId(),
        sessionId,
        title: prepared.title,
        schema: DOCUMENT_SCHEMA,
        body: JSON.stringify(prepared.doc),
        updatedBy: actor.name,
      },
      select: { id: true, version: true },
    });
  },
});
