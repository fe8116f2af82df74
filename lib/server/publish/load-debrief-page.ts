/** Everything the debrief page needs: draft, live blocks, what can be inserted, what was published. */
import { askedPolls, statedPolls } from '@/lib/core/debrief/asked-polls';
import type { DebriefMaterial } from '@/lib/core/debrief/debrief-material';
import type { DocNode } from '@/lib/core/debrief/document';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { approvableSha256 } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import {
  type InsertMenu,
  insertMenu,
  type LiveView,
  type LiveViews,
  liveKey,
  liveNodesOf,
  liveViews,
  stateWords,
} from '@/lib/view/debrief/live-nodes';
import { askStates } from '../polls/known-states';
import { loadDocument } from '../queries/load-document';
import { loadPublications } from '../queries/load-publications';
import { channelsOf, fullMaterial, type MaterialOutline } from './full-material';
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
    return { ...base, live: {}, menu: { blocks: [], values: [] } };
  }
  const menu = insertMenu(await outlineMaterial(outline));
  return { ...base, live: await viewsOf(sessionId, outline, liveNodesOf(draft.body)), menu };
}

/** What live nodes show. One whose state at an instant is not there yet says so, and is not waited for. */
async function viewsOf(
  sessionId: string,
  outline: MaterialOutline,
  nodes: readonly DocNode[],
): Promise<LiveViews> {
  const { reconstruction } = outline.parts;
  const places = askedPolls({ type: 'doc', content: nodes }, BUILT_IN_BLOCKS, reconstruction);
  const states = await askStates(
    sessionId,
    places.map(({ atS }) => atS),
  );
  const known = new Map(
    [...states].flatMap(([atS, now]) => (now.kind === 'known' ? [[atS, now.state] as const] : [])),
  );
  const lacking = new Map(
    places.flatMap(({ key, atS }) => (known.has(atS) ? [] : [[key, states.get(atS)?.kind]])),
  );
  const lackOf = (node: DocNode) =>
    (BUILT_IN_BLOCKS.get(node.type)?.polls(node.attrs, reconstruction) ?? []).find(({ key }) =>
      lacking.has(key),
    );
  const ready = nodes.filter((node) => lackOf(node) === undefined);
  const channels = channelsOf({ type: 'doc', content: ready });
  const full = await fullMaterial(outline, channels, statedPolls(places, known));
  const open = nodes.flatMap((node): (readonly [string, LiveView])[] => {
    const place = lackOf(node);
    if (place === undefined) return [];
    const isOnItsWay = lacking.get(place.key) === 'on its way';
    const kind = isOnItsWay ? 'waiting' : 'failed';
    return [[liveKey(node.type, node.attrs ?? {}), { kind, words: stateWords(kind, place.atS) }]];
  });
  return { ...liveViews(ready, full, sessionId), ...Object.fromEntries(open) };
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
  return viewsOf(sessionId, outline, wanted);
}
