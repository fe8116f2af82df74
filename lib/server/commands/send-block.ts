/** Puts a live block into a session's draft from another screen, at the end of its section. */
import { z } from 'zod';
import { SECTION_TITLES } from '@/lib/core/debrief/draft';
import { DRAFT_SECTIONS } from '@/lib/core/debrief/draft-sections';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { holdsBlock, placeBlock } from '@/lib/core/debrief/place-block';
import { sectionHeading } from '@/lib/core/debrief/template/check-template';
import { DomainError } from '@/lib/core/result';
import { newId } from '../new-id';
import { usedTemplate } from '../publish/load-material';
import { checkedDocument } from '../publish/stored-document';
import { defineCommand } from './define-command';
import { DRAFT_COLUMNS, storeDraft, type WrittenDraft } from './store-draft';

const input = z.object({
  sessionId: z.string().min(1),
  /** Name of the block, and its attributes without an id. */
  type: z.string().refine((type) => BUILT_IN_BLOCKS.has(type), 'There is no such block.'),
  attributes: z.record(z.string(), z.unknown()),
  /** The section at whose end it is put; at the end of the draft where that has none of its heading. */
  section: z.enum(DRAFT_SECTIONS),
});

/** `under`: the heading that it stands under now; null at the end of the draft. */
export type SentBlock = WrittenDraft & Readonly<{ under: string | null }>;

const NO_DRAFT = 'This session has no draft yet: start its debrief, then put this into it.';

export const sendBlock = defineCommand({
  name: 'send-block',
  input,
  may: () => true,
  detail: ({ type, section }) => ({ type, section }),
  run: async (context, { sessionId, type, attributes, section }): Promise<SentBlock> => {
    const { tx, actor } = context;
    const row = await tx.document.findFirst({
      where: { sessionId, session: { teamId: actor.teamId } },
      select: {
        ...DRAFT_COLUMNS,
        session: {
          select: {
            debriefTemplateVersion: {
              select: { title: true, number: true, sha256: true, text: true },
            },
          },
        },
      },
    });
    if (row === null) throw new DomainError('no-draft', NO_DRAFT);
    const { session, ...before } = row;
    const draft = checkedDocument(JSON.parse(before.body), before.schema);
    const block = { type, attrs: { ...attributes, id: newId() } };
    if (holdsBlock(draft, block)) {
      throw new DomainError('there-already', 'The draft of the debrief shows this already.');
    }
    const own = usedTemplate(session.debriefTemplateVersion).template?.form.sections.find(
      (each) => each.section === section,
    );
    const title = own === undefined ? SECTION_TITLES[section] : sectionHeading(own);
    const { doc, under } = placeBlock(draft, block, { id: section, title });
    const body = checkedDocument(doc);
    return { ...(await storeDraft(context, before, { title: before.title, body })), under };
  },
});
