/** Approves the draft as it stands, under a role and a name that the person states at this moment. */
import { z } from 'zod';
import { LONGEST_ROLE, sameWords } from '@/lib/core/debrief/approvals';
import { plainText } from '@/lib/core/debrief/markup';
import { DomainError, invariant } from '@/lib/core/result';
import { standingApprovals } from '../approval-rows';
import { newId } from '../new-id';
import { loadDraftContent, stopsOf } from '../publish/draft-content';
import { type CommandContext, defineCommand } from './define-command';

const stated = (what: string) =>
  z
    .string()
    .trim()
    .min(1, `An approval needs ${what}.`)
    .max(LONGEST_ROLE, `At most ${LONGEST_ROLE} characters.`)
    .transform((words) => plainText(words).replace(/\s+/g, ' '));

const input = z.object({
  sessionId: z.string().min(1),
  /** Version of the draft and hash of its content that were looked at. */
  version: z.int().positive(),
  contentSha256: z.string().regex(/^[0-9a-f]{64}$/, 'The hash of what is approved is missing.'),
  role: stated('a role'),
  name: stated('a name'),
});

type Input = z.infer<typeof input>;

const DRAFT_CHANGED = 'The draft has changed since you looked at it: read it again, then approve.';
const FIGURES_CHANGED =
  'Figures, findings or versions have changed since you looked at the draft: read it again, then approve.';

/** What is there now must be what was looked at, to the bit. */
async function prepare(_: unknown, request: Input): Promise<string> {
  const content = await loadDraftContent(request.sessionId);
  if (content === null) throw new DomainError('not-found', 'There is no draft to approve.');
  if (content.draft.version !== request.version) {
    throw new DomainError('changed-meanwhile', DRAFT_CHANGED);
  }
  if (content.contentSha256 !== request.contentSha256) {
    throw new DomainError('changed-meanwhile', FIGURES_CHANGED);
  }
  const stops = stopsOf(content);
  if (stops.length > 0) {
    const message = `Not approved, it could not be published: ${stops.join(' ')}`;
    throw new DomainError('open-blocks', message);
  }
  return content.contentSha256;
}

async function requireNew({ tx, actor }: CommandContext, request: Input): Promise<void> {
  const { sessionId, role, name, contentSha256 } = request;
  const place = { teamId: actor.teamId, sessionId };
  const same = (await standingApprovals(tx, place)).some(
    (each) =>
      each.contentSha256 === contentSha256 &&
      sameWords(each.role) === sameWords(role) &&
      sameWords(each.name) === sameWords(name),
  );
  if (same) throw new DomainError('approved-already', `${name} has approved this as ${role}.`);
  const last = await tx.publication.findFirst({
    where: place,
    orderBy: [{ number: 'desc' }, { revision: 'desc' }],
    select: { contentSha256: true, revision: true },
  });
  if (last?.contentSha256 === contentSha256) {
    const message = `This was published as revision ${last.revision}: there is nothing new to approve.`;
    throw new DomainError('published-already', message);
  }
}

export const approveDebrief = defineCommand({
  name: 'approve-debrief',
  input,
  may: () => true,
  detail: ({ role, name, contentSha256 }) => ({ role, name, contentSha256 }),
  prepare,
  run: async (context, request, contentSha256): Promise<{ id: string }> => {
    invariant(contentSha256 !== null, 'an approval is prepared');
    const { tx, actor, now } = context;
    const { sessionId, version, role, name } = request;
    const document = await tx.document.findFirst({
      where: { sessionId, session: { teamId: actor.teamId } },
      select: { id: true, version: true },
    });
    if (document === null) throw new DomainError('not-found', 'The draft is no longer there.');
    if (document.version !== version) throw new DomainError('changed-meanwhile', DRAFT_CHANGED);
    await requireNew(context, request);
    const at = { documentId: document.id, draftVersion: version, at: now };
    return tx.approval.create({
      data: { id: newId(), ...at, role, name, contentSha256 },
      select: { id: true },
    });
  },
});
