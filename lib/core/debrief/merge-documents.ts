/** Two people's changes of one draft, put together block by block. */
import canonicalize from 'canonicalize';
import { blockId, type DocNode, withoutPlaced } from './document';

/** `conflicts` are ids of blocks that both changed, or that one changed and the other took out. */
export type Merge = Readonly<{ doc: DocNode; conflicts: readonly string[] }>;

function byId(doc: DocNode): ReadonlyMap<string, DocNode> {
  return new Map((doc.content ?? []).map((block) => [blockId(block), block]));
}

function same(a: DocNode | undefined, b: DocNode | undefined): boolean {
  if (a === undefined || b === undefined) return a === b;
  return canonicalize(withoutPlaced(a)) === canonicalize(withoutPlaced(b));
}

/** Whether what its live nodes showed when they were placed is the same too. */
function samePlaced(a: DocNode | undefined, b: DocNode | undefined): boolean {
  return canonicalize(a ?? null) === canonicalize(b ?? null);
}

/** Ids in an order that keeps `theirs` and puts blocks only in `mine` after their neighbour there. */
function mergedOrder(theirs: readonly string[], mine: readonly string[]): readonly string[] {
  const order = [...theirs];
  const placed = new Set(theirs);
  mine.forEach((id, index) => {
    if (placed.has(id)) return;
    const before = mine.slice(0, index).findLast((other) => placed.has(other));
    order.splice(before === undefined ? 0 : order.indexOf(before) + 1, 0, id);
    placed.add(id);
  });
  return order;
}

/**
 * Three-way merge by the ids of the blocks at the top.
 *
 * @param base what both started from
 * @param theirs what is stored now; its order of blocks is kept
 * @param mine what is to be saved
 * @returns the merged draft; where `conflicts` is not empty, `theirs` stands in those places
 */
export function mergeDocuments(base: DocNode, theirs: DocNode, mine: DocNode): Merge {
  const [baseBlocks, theirBlocks, myBlocks] = [byId(base), byId(theirs), byId(mine)];
  const conflicts: string[] = [];
  const ids = mergedOrder([...theirBlocks.keys()], [...myBlocks.keys()]);
  const content = ids.flatMap((id): readonly DocNode[] => {
    const [old, their, my] = [baseBlocks.get(id), theirBlocks.get(id), myBlocks.get(id)];
    const theyChanged = !same(old, their);
    const iChanged = !same(old, my);
    if (theyChanged && iChanged && !same(their, my)) conflicts.push(id);
    // Who only took live nodes as they are now changes no word, and is not to lose that either.
    const iTook = !iChanged && !theyChanged && samePlaced(old, their) && !samePlaced(old, my);
    const kept = (iChanged && !theyChanged) || iTook ? my : their;
    return kept === undefined ? [] : [kept];
  });
  // A block that I changed and they took out is in neither list of ids above.
  for (const [id, my] of myBlocks) {
    if (theirBlocks.has(id) || !baseBlocks.has(id)) continue;
    if (!same(baseBlocks.get(id), my) && !conflicts.includes(id)) conflicts.push(id);
  }
  return { doc: { ...theirs, content }, conflicts };
}
