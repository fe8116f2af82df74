/** Two versions of a draft that cannot be put together by themselves, for a person to settle. */
import { blockId, type DocNode, nodeText, withoutPlaced } from '../../core/debrief/document';
import { mergeDocuments } from '../../core/debrief/merge-documents';
import { BUILT_IN_BLOCKS } from '../../core/debrief/nodes/built-in-blocks';
import { type LiveViews, liveKey, liveNodesOf, VALUE_TYPE } from './live-nodes';

export type Side = 'mine' | 'theirs';

/** One block that both changed, under its section. Words of a block that was taken out are null. */
export type Conflict = Readonly<{
  id: string;
  section: string;
  mine: string | null;
  theirs: string | null;
}>;

/** A value as it reads now; its place is kept where that is not known yet. */
function valueWords(node: DocNode, views: LiveViews): string {
  const view = views[liveKey(node.type, node.attrs ?? {})];
  if (view?.kind !== 'value' || view.run.kind === 'break') return '[value]';
  return view.run.kind === 'number' ? view.run.figure.value : view.run.text;
}

/** Words of a block with its live values in them; a live block by its kind and caption. */
export function wordsOfBlock(node: DocNode, views: LiveViews): string {
  if (node.type === VALUE_TYPE) return valueWords(node, views);
  const live = BUILT_IN_BLOCKS.get(node.type);
  if (live !== undefined) return `${live.label}: ${String(node.attrs?.caption ?? '')}`;
  const inside = (node.content ?? []).map((child) => wordsOfBlock(child, views));
  const apart = (node.content ?? []).some(
    ({ type }) => type !== 'text' && type !== VALUE_TYPE && type !== 'hardBreak',
  );
  return (node.text ?? '') + inside.join(apart ? '\n' : '');
}

function wordsOf(doc: DocNode, id: string, views: LiveViews): string | null {
  const block = (doc.content ?? []).find((each) => blockId(each) === id);
  return block === undefined ? null : wordsOfBlock(block, views);
}

/** The last heading at or before a block; '' where there is none. */
function sectionOf(doc: DocNode, id: string): string {
  const blocks = doc.content ?? [];
  const at = blocks.findIndex((block) => blockId(block) === id);
  const heading = blocks.slice(0, at + 1).findLast(({ type }) => type === 'heading');
  return heading === undefined ? '' : nodeText(heading).trim();
}

/**
 * The blocks to settle; empty where the two can be put together.
 *
 * @param views what live values read as, where the words are to be shown
 */
export function conflictsOf(
  base: DocNode,
  theirs: DocNode,
  mine: DocNode,
  views: LiveViews = {},
): readonly Conflict[] {
  return mergeDocuments(base, theirs, mine).conflicts.map((id) => ({
    id,
    section: sectionOf(theirs, id) || sectionOf(mine, id),
    mine: wordsOf(mine, id, views),
    theirs: wordsOf(theirs, id, views),
  }));
}

/** Alike for blocks that read alike, whatever their live nodes showed when they were placed. */
const wordsKey = (block: DocNode): string => JSON.stringify(withoutPlaced(block));

/** One block that differs between two texts; null where one of them does not have it. */
export type ChangedPart = Readonly<{
  id: string;
  section: string;
  before: string | null;
  after: string | null;
}>;

/** Blocks that differ, in the order of the later text, those that are gone at the end. */
export function changedParts(
  before: DocNode,
  after: DocNode,
  views: LiveViews,
): readonly ChangedPart[] {
  const texts = (doc: DocNode) =>
    new Map((doc.content ?? []).map((block) => [blockId(block), wordsKey(block)]));
  const [old, now] = [texts(before), texts(after)];
  const ids = [...now.keys(), ...[...old.keys()].filter((id) => !now.has(id))];
  return ids
    .filter((id) => old.get(id) !== now.get(id))
    .map((id) => ({
      id,
      section: sectionOf(now.has(id) ? after : before, id),
      before: wordsOf(before, id, views),
      after: wordsOf(after, id, views),
    }));
}

/** Live values in blocks that differ between two texts: what has to be asked for to show them. */
export function valuesInChanges(before: DocNode, after: DocNode): readonly DocNode[] {
  const known = new Set((before.content ?? []).map(wordsKey));
  const same = new Set((after.content ?? []).map(wordsKey).filter((text) => known.has(text)));
  return [before, after].flatMap((doc) =>
    (doc.content ?? [])
      .filter((block) => !same.has(wordsKey(block)))
      .flatMap(liveNodesOf)
      .filter(({ type }) => type === VALUE_TYPE),
  );
}

/**
 * Puts both together: what only one changed stays changed, and each conflict goes as chosen.
 *
 * @param chosen side by block id; `theirs` where nothing was chosen
 */
export function settle(
  base: DocNode,
  theirs: DocNode,
  mine: DocNode,
  chosen: Readonly<Record<string, Side>>,
): DocNode {
  const { doc, conflicts } = mergeDocuments(base, theirs, mine);
  const taken = new Set(conflicts.filter((id) => chosen[id] === 'mine'));
  const myBlocks = new Map((mine.content ?? []).map((block) => [blockId(block), block]));
  const kept = (doc.content ?? []).flatMap((block): readonly DocNode[] => {
    const id = blockId(block);
    if (!taken.has(id)) return [block];
    taken.delete(id);
    const my = myBlocks.get(id);
    return my === undefined ? [] : [my];
  });
  // What they took out and I kept comes back at the end, where it is seen.
  const back = [...taken].flatMap((id) => myBlocks.get(id) ?? []);
  return { ...doc, content: [...kept, ...back] };
}

/** Puts changes made while a save was under way onto what came back from it; mine stand. */
export function rebase(sent: DocNode, saved: DocNode, mine: DocNode): DocNode {
  const conflicts = conflictsOf(sent, saved, mine);
  const chosen = Object.fromEntries(conflicts.map(({ id }) => [id, 'mine' as const]));
  return settle(sent, saved, mine, chosen);
}
