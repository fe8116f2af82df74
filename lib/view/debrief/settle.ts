/** Two versions of a draft that cannot be put together by themselves, for a person to settle. */
import { blockId, type DocNode, nodeText } from '../../core/debrief/document';
import { mergeDocuments } from '../../core/debrief/merge-documents';
import { BUILT_IN_BLOCKS } from '../../core/debrief/nodes/built-in-blocks';

export type Side = 'mine' | 'theirs';

/** One block that both changed. Words of a block that was taken out are null. */
export type Conflict = Readonly<{ id: string; mine: string | null; theirs: string | null }>;

function wordsOf(doc: DocNode, id: string): string | null {
  const block = (doc.content ?? []).find((each) => blockId(each) === id);
  if (block === undefined) return null;
  const live = BUILT_IN_BLOCKS.get(block.type);
  return live === undefined
    ? nodeText(block)
    : `${live.label}: ${String(block.attrs?.caption ?? '')}`;
}

/** The blocks to settle; empty where the two can be put together. */
export function conflictsOf(base: DocNode, theirs: DocNode, mine: DocNode): readonly Conflict[] {
  return mergeDocuments(base, theirs, mine).conflicts.map((id) => ({
    id,
    mine: wordsOf(mine, id),
    theirs: wordsOf(theirs, id),
  }));
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
