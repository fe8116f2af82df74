/** Live blocks and inline values as the editor shows them, and what it can insert. */
import type { DebriefMaterial } from '../../core/debrief/debrief-material';
import { type DocNode, LIVE_PLACED } from '../../core/debrief/document';
import { BUILT_IN_BLOCKS } from '../../core/debrief/nodes/built-in-blocks';
import { FIGURE_VALUE, resolveFigureValue } from '../../core/debrief/nodes/figure-value';
import { shownMark, valueMark } from '../../core/debrief/placed';
import { openContext, resolveBlock } from '../../core/debrief/resolve';
import { valueChoices } from '../../core/debrief/value-choices';
import { instantText } from '../../core/time/session-time-text';
import { type BlockView, blockView, type RunView, runView } from './document-view';

/**
 * `mark` stands for what it shows now, as it is kept with a node when that is placed. `waiting` is asked
 * for again in a while, `failed` when a person wants it.
 */
export type LiveView =
  | Readonly<{ kind: 'blocks'; blocks: readonly BlockView[]; mark: string }>
  | Readonly<{ kind: 'value'; run: RunView; mark: string }>
  | Readonly<{ kind: 'waiting' | 'failed'; words: string }>;

/** What a live node shows depends on its type and attributes alone. */
export type LiveViews = Readonly<Record<string, LiveView>>;

/** Name of a live node's view. */
export function liveKey(type: string, attributes: Readonly<Record<string, unknown>>): string {
  const { [LIVE_PLACED]: _placed, ...own } = attributes;
  const sorted = Object.entries(own).sort(([a], [b]) => (a < b ? -1 : 1));
  return JSON.stringify([type, sorted]);
}

/** Every live node of a document, at any depth. */
export function liveNodesOf(doc: DocNode): readonly DocNode[] {
  const own = doc.type === FIGURE_VALUE || BUILT_IN_BLOCKS.has(doc.type) ? [doc] : [];
  return [...own, ...(doc.content ?? []).flatMap(liveNodesOf)];
}

/** What stands in place of a block while what was known at its instant is not there. */
export function stateWords(kind: 'waiting' | 'failed', atS: number): string {
  const at = instantText(atS);
  return kind === 'waiting'
    ? `What was known at ${at} is being computed\u2026`
    : `What was known at ${at} could not be computed; the server\u2019s log says why.`;
}

/** What live nodes show now. */
export function liveViews(
  nodes: readonly DocNode[],
  material: DebriefMaterial,
  sessionId: string,
): LiveViews {
  const context = openContext(material);
  const views = nodes.map((node): readonly [string, LiveView] => {
    const key = liveKey(node.type, node.attrs ?? {});
    if (node.type === FIGURE_VALUE) {
      const run = resolveFigureValue(node.attrs, context);
      const frame = frameOf();
      return [key, { kind: 'value', mark: valueMark(run), run: runView(run, frame) }];
    }
    const blocks = resolveBlock(node, context, BUILT_IN_BLOCKS);
    const frame = frameOf();
    const shown = blocks.map((block) => blockView(block, frame));
    return [key, { kind: 'blocks', mark: shownMark(blocks), blocks: shown }];
  });
  return Object.fromEntries(views);

  function frameOf() {
    const { book } = context;
    const { reconstruction, plan, ruleSet } = material;
    const { engine, inputsSha256 } = reconstruction;
    const basis = { plan, ruleSet, engine, inputsSha256 };
    return { evidence: book.evidence(), sources: book.sources(), sessionId, basis };
  }
}

export type InsertChoice = Readonly<{
  type: string;
  label: string;
  attributes: Readonly<Record<string, unknown>>;
}>;

export type InsertGroup = Readonly<{ label: string; choices: readonly InsertChoice[] }>;

export type InsertValue = Readonly<{
  label: string;
  text: string;
  attributes: Readonly<Record<string, unknown>>;
}>;

export type InsertMenu = Readonly<{
  blocks: readonly InsertGroup[];
  values: readonly InsertValue[];
}>;

/** What can be inserted for a session: blocks by kind, and every figure with a value. */
export function insertMenu(material: DebriefMaterial): InsertMenu {
  const blocks = [...BUILT_IN_BLOCKS.values()].map((block) => ({
    label: block.label,
    choices: block
      .choices(material)
      .map(({ label, attributes }) => ({ type: block.name, label, attributes })),
  }));
  const values = valueChoices(material).map(({ key, label, text, form }) => ({
    label,
    text,
    attributes: { key, form, uncertainty: 'with', digits: null },
  }));
  return { blocks: blocks.filter((group) => group.choices.length > 0), values };
}

export { LIVE_PLACED };

/** Type of the inline value in the editor's JSON. */
export const VALUE_TYPE = FIGURE_VALUE;
