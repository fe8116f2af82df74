/** Writes a session's first draft from its reconstruction and findings. */
import { z } from 'zod';
import { askedPolls } from '@/lib/core/debrief/asked-polls';
import { DOCUMENT_SCHEMA, type DocNode } from '@/lib/core/debrief/document';
import { draftDebrief as draft } from '@/lib/core/debrief/draft';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { withPlaced } from '@/lib/core/debrief/placed';
import { openContext } from '@/lib/core/debrief/resolve';
import { DomainError, invariant } from '@/lib/core/result';
import { localActor } from '../actor';
import { db } from '../db';
import { newId } from '../new-id';
import { startStates } from '../polls/known-states';
import { channelsOf, fullMaterial } from '../publish/full-material';
import { loadMaterialOutline, outlineMaterial, usedTemplate } from '../publish/load-material';
import { checkedDocument } from '../publish/stored-document';
import { defineCommand } from './define-command';

/** `polls`: instants at which the draft asks what was known, session time, s. */
type Prepared = Readonly<{ doc: DocNode; title: string; polls: readonly number[] }>;

async function templateOf(id: string | null): Promise<ReturnType<typeof usedTemplate>> {
  if (id === null) return {};
  const row = await db().debriefTemplateVersion.findFirst({
    where: { id, teamId: localActor().teamId },
    select: { title: true, number: true, sha256: true, text: true },
  });
  if (row === null) throw new DomainError('not-found', 'There is no such template.');
  return usedTemplate(row);
}

export const draftDebrief = defineCommand({
  name: 'draft-debrief',
  input: z.object({
    sessionId: z.string().min(1),
    /** Version of the template to draft by; null for the program's own form. */
    templateId: z.string().min(1).nullable().default(null),
  }),
  may: () => true,
  prepare: async (_request, { sessionId, templateId }): Promise<Prepared> => {
    const outline = await loadMaterialOutline(sessionId);
    if (outline === null) {
      throw new DomainError('not-reconstructed', 'The session has no reconstruction yet.');
    }
    const material = await outlineMaterial(outline);
    const { template } = await templateOf(templateId);
    const { title } = outline.parts.reconstruction.session;
    const doc = draft(material, BUILT_IN_BLOCKS, newId, template?.form ?? null);
    const full = await fullMaterial(outline, channelsOf(doc), []);
    const polls = askedPolls(doc, BUILT_IN_BLOCKS, outline.parts.reconstruction);
    return {
      polls: polls.map(({ atS }) => atS),
      // Stored as it will be read, so that opening it is no change.
      doc: checkedDocument(withPlaced(doc, openContext(full), BUILT_IN_BLOCKS)),
      title: `Debrief of ${title}`.slice(0, 200),
    };
  },
  run: async (
    context,
    { sessionId, templateId },
    prepared,
  ): Promise<Readonly<{ id: string; version: number }>> => {
    invariant(prepared !== null, 'a draft is prepared');
    const { tx, actor } = context;
    // Computed while the draft is read: it is there by the time somebody comes to it or publishes.
    context.afterCommit(() => startStates(sessionId, prepared.polls));
    const there = await tx.document.findUnique({ where: { sessionId }, select: { id: true } });
    if (there !== null) {
      throw new DomainError('draft-is-there', 'This session has a draft already.');
    }
    await tx.session.update({
      where: { id: sessionId },
      data: { debriefTemplateVersionId: templateId },
    });
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
