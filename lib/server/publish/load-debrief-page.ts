/** Everything the debrief page needs: draft, live blocks, what can be inserted, what was published. */
import type { DebriefMaterial } from '@/lib/core/debrief/debrief-material';
import type { DocNode } from '@/lib/core/debrief/document';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { approvableSha256 } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { approvedNotice } from '@/lib/view/debrief/approvals-view';
import {
  type InsertMenu,
  insertMenu,
  type LiveViews,
  liveNodesOf,
  liveViews,
} from '@/lib/view/debrief/live-nodes';
import { loadApprovals } from '../queries/load-approvals';
import { loadDocument } from '../queries/load-document';
import { loadPublications } from '../queries/load-publications';
import { channelsOf, fullMaterial } from './full-material';
import { loadMaterialOutline, outlineMaterial } from './load-material';
import { checkedDocument, isDraftNode } from './stored-document';

export type DraftState = Readonly<{
  version: number;
  title: string;
  body: DocNode;
  by: string;
  updatedAtIso: string;
}>;

export type LastPublished = Readonly<{
  number: number;
  revision: number;
  publishedAtIso: string;
  isWithdrawn: boolean;
}>;

/** What an approval of the draft is bound to: title, text, figures, evidence and versions. */
export function contentSha256OfDraft(
  { body, title }: DraftState,
  material: DebriefMaterial,
): string {
  return approvableSha256(resolveDocument(body, material, BUILT_IN_BLOCKS), material, title);
}

export type DebriefPage = Readonly<{
  sessionId: string;
  canDraft: boolean;
  draft: DraftState | null;
  live: LiveViews;
  menu: InsertMenu;
  published: LastPublished | null;
  /** Who has approved the draft as it stands; null where nobody has. */
  approved: string | null;
}>;

/** The draft as stored, checked; null where there is none. */
export async function loadDraftState(sessionId: string): Promise<DraftState | null> {
  const document = await loadDocument(sessionId);
  if (document === null) return null;
  const { version, title, updatedBy, updatedAtIso } = document;
  return {
    version,
    title,
    by: updatedBy,
    updatedAtIso,
    body: checkedDocument(document.body, document.schema),
  };
}

async function lastPublished(sessionId: string): Promise<LastPublished | null> {
  const own = (await loadPublications()).filter((each) => each.sessionId === sessionId);
  const newest = own[0];
  if (newest === undefined) return null;
  const { number, revision, publishedAtIso, withdrawn } = newest;
  return { number, revision, publishedAtIso, isWithdrawn: withdrawn !== null };
}

export async function loadDebriefPage(sessionId: string): Promise<DebriefPage> {
  const [outline, draft, published] = await Promise.all([
    loadMaterialOutline(sessionId),
    loadDraftState(sessionId),
    lastPublished(sessionId),
  ]);
  const base = { sessionId, published, draft, canDraft: outline !== null };
  if (outline === null || draft === null) {
    return { ...base, approved: null, live: {}, menu: { blocks: [], values: [] } };
  }
  const full = await fullMaterial(outline, channelsOf(draft.body));
  const given = await loadApprovals(sessionId);
  const approved = given.some(({ withdrawn }) => withdrawn === null)
    ? approvedNotice(given, contentSha256OfDraft(draft, full))
    : null;
  const menu = insertMenu(await outlineMaterial(outline));
  return { ...base, approved, live: liveViews(liveNodesOf(draft.body), full, sessionId), menu };
}

/** Most live nodes that one request may ask for. */
const MOST_NODES = 500;

/**
 * What live nodes show that the page did not know when it was loaded.
 *
 * @param nodes as sent; what no draft may hold is passed over
 */
export async function resolveLiveNodes(sessionId: string, nodes: unknown): Promise<LiveViews> {
  const outline = await loadMaterialOutline(sessionId);
  if (outline === null) return {};
  const wanted = Array.isArray(nodes) ? nodes.slice(0, MOST_NODES).filter(isDraftNode) : [];
  const full = await fullMaterial(outline, channelsOf({ type: 'doc', content: wanted }));
  return liveViews(wanted, full, sessionId);
}
