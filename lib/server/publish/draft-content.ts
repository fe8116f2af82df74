/** The draft as it would be published: its hash for approvals, and the list before publishing. */
import { askedPolls, statedPolls } from '@/lib/core/debrief/asked-polls';
import { checkDocument, type DocumentCheck } from '@/lib/core/debrief/check-document';
import type { DebriefMaterial } from '@/lib/core/debrief/debrief-material';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { glyphChecks } from '@/lib/core/debrief/pdf/glyph-checks';
import {
  type ApprovalsView,
  approvalsView,
  approvedNotice,
} from '@/lib/view/debrief/approvals-view';
import { awaitStates } from '../polls/known-states';
import { loadApprovals, loadRequiredRoles } from '../queries/load-approvals';
import { channelsOf, fullMaterial } from './full-material';
import { contentSha256OfDraft, type DraftState, loadDraftState } from './load-debrief-page';
import { loadMaterialOutline } from './load-material';
import { loadPdfFonts } from './pdf/pdf-fonts';

export type DraftContent = Readonly<{
  draft: DraftState;
  material: DebriefMaterial;
  /** What an approval is bound to: it covers title, text, figures, evidence and versions. */
  contentSha256: string;
}>;

/** @returns null where there is no draft, or the session was not reconstructed */
export async function loadDraftContent(sessionId: string): Promise<DraftContent | null> {
  const [outline, draft] = await Promise.all([
    loadMaterialOutline(sessionId),
    loadDraftState(sessionId),
  ]);
  if (outline === null || draft === null) return null;
  const places = askedPolls(draft.body, BUILT_IN_BLOCKS, outline.parts.reconstruction);
  const states = await awaitStates(
    sessionId,
    places.map(({ atS }) => atS),
  );
  const polls = statedPolls(places, states);
  const material = await fullMaterial(outline, channelsOf(draft.body), polls);
  return { draft, material, contentSha256: contentSha256OfDraft(draft, material) };
}

/** What nothing can be published with, in sentences. */
export function stopsOf({ draft, material }: DraftContent): readonly string[] {
  return checkDocument(draft.body, material, BUILT_IN_BLOCKS)
    .filter(({ gravity }) => gravity === 'stops')
    .map(({ message }) => message);
}

/** What stands in the way of publishing, and what is worth a second look. */
async function checkContent({ draft, material }: DraftContent): Promise<readonly DocumentCheck[]> {
  const { coverage } = await loadPdfFonts();
  return [
    ...checkDocument(draft.body, material, BUILT_IN_BLOCKS),
    ...glyphChecks(draft.body, material, { registry: BUILT_IN_BLOCKS, coverage }),
  ];
}

/** Who has approved the draft as it stands; null where nobody has. */
export async function loadApprovedNotice(sessionId: string): Promise<string | null> {
  const given = await loadApprovals(sessionId);
  if (given.every(({ withdrawn }) => withdrawn !== null)) return null;
  const content = await loadDraftContent(sessionId);
  return content === null ? null : approvedNotice(given, content.contentSha256);
}

/** Everything that the dialog before publishing shows. */
export type LookedThrough = Readonly<{
  checks: readonly DocumentCheck[];
  approvals: ApprovalsView;
}>;

/** @returns null where there is no draft, or the session was not reconstructed */
export async function lookThrough(sessionId: string): Promise<LookedThrough | null> {
  const content = await loadDraftContent(sessionId);
  if (content === null) return null;
  const { contentSha256, draft } = content;
  const [given, requiredRoles] = await Promise.all([loadApprovals(sessionId), loadRequiredRoles()]);
  const now = { version: draft.version, contentSha256, requiredRoles };
  return { checks: await checkContent(content), approvals: approvalsView(given, now) };
}
