/**
 * What a live block or value showed when it was placed, kept with it: a later computation that makes it
 * show something else is told where it stands.
 */
import canonicalize from 'canonicalize';
import { type DocNode, LIVE_PLACED, LONGEST_PLACED } from './document';
import type { BlockRegistry } from './nodes/block';
import { FIGURE_VALUE, resolveFigureValue } from './nodes/figure-value';
import { resolveBlock } from './resolve';
import type { ResolveContext } from './resolve-context';
import type { ResolvedBlock, Run } from './resolved';
import { sha256OfText } from './sha256';

/** Digits of the hash that stands for what a block shows. */
const HASH_DIGITS = 16;

/** What is not shown, or is its author's own: names and places, captions, doubles behind a text. */
const NOT_SHOWN = new Set([
  ...['id', 'key', 'number', 'caption', 'alt', 'evidence'],
  ...['value', 'random95', 'systematic95'],
]);

/** What stands for the blocks that one live block gives. */
export function shownMark(blocks: readonly ResolvedBlock[]): string {
  const shown = JSON.stringify(blocks, (key, value) => (NOT_SHOWN.has(key) ? undefined : value));
  return sha256OfText(canonicalize(JSON.parse(shown)) ?? '').slice(0, HASH_DIGITS);
}

/** What stands for a value in a sentence: its text, or a hash of one that a draft would not take. */
export function valueMark(run: Run): string {
  const text = run.kind === 'break' ? '' : run.text;
  return text.length > LONGEST_PLACED ? sha256OfText(text).slice(0, HASH_DIGITS) : text;
}

function isLive({ type }: DocNode, registry: BlockRegistry): boolean {
  return type === FIGURE_VALUE || registry.has(type);
}

/** True where what was known at an instant is not there: what it shows cannot be told yet. */
function isOpen(node: DocNode, { material }: ResolveContext, registry: BlockRegistry): boolean {
  const { reconstruction, polls = [] } = material;
  const places = registry.get(node.type)?.polls(node.attrs, reconstruction) ?? [];
  return places.some(({ key }) => polls.every(({ place }) => place.key !== key));
}

/** What a live node shows now, as it is kept with it. */
function markOf(node: DocNode, context: ResolveContext, registry: BlockRegistry): string {
  return node.type === FIGURE_VALUE
    ? valueMark(resolveFigureValue(node.attrs, context))
    : shownMark(resolveBlock(node, context, registry));
}

/** A draft whose live nodes carry what they show now; one that waits for a computation carries nothing. */
export function withPlaced(
  doc: DocNode,
  context: ResolveContext,
  registry: BlockRegistry,
): DocNode {
  const isKept = isLive(doc, registry) && !isOpen(doc, context, registry);
  const placed = isKept
    ? { attrs: { ...doc.attrs, [LIVE_PLACED]: markOf(doc, context, registry) } }
    : {};
  const content = doc.content?.map((child) => withPlaced(child, context, registry));
  return { ...doc, ...placed, ...(content === undefined ? {} : { content }) };
}

/** `was` and `now` are texts of a value; null for a block, of which only a hash was kept. */
export type ChangedSince = Readonly<{ node: DocNode; was: string | null; now: string | null }>;

/**
 * Live nodes inside a block that show something else than when they were placed.
 *
 * @returns in their order; a node that carries nothing of when it was placed is passed over
 */
export function changedSincePlaced(
  block: DocNode,
  context: ResolveContext,
  registry: BlockRegistry,
): readonly ChangedSince[] {
  const was = block.attrs?.[LIVE_PLACED];
  const inside = (block.content ?? []).flatMap((child) =>
    changedSincePlaced(child, context, registry),
  );
  const isKept = isLive(block, registry) && typeof was === 'string';
  if (!isKept || isOpen(block, context, registry)) return inside;
  const now = markOf(block, context, registry);
  if (was === now) return inside;
  const texts = block.type === FIGURE_VALUE ? { was, now } : { was: null, now: null };
  return [{ node: block, ...texts }, ...inside];
}
