/** What a draft can refer to, with the numbers that publishing would give now. */
import type { DocNode } from '../../core/debrief/document';
import { BLOCK_REFERENCE, referenceLabels } from '../../core/debrief/nodes/block-reference';
import { numberBlocks } from '../../core/debrief/number-blocks';
import type { ResolvedBlock } from '../../core/debrief/resolved';
import type { BlockView } from './document-view';
import { type LiveViews, liveKey } from './live-nodes';

/** Type of a reference in the editor's JSON. */
export const REFERENCE_TYPE = BLOCK_REFERENCE;

/** A section, figure, table or finding. `label` is how a sentence calls it, `title` what it is about. */
export type DraftTarget = Readonly<{ id: string; label: string; title: string }>;

function wordsOf(node: DocNode): string {
  return (node.text ?? '') + (node.content ?? []).map(wordsOf).join('');
}

/** A live block as far as numbers go. */
function counted(view: BlockView): readonly ResolvedBlock[] {
  if (view.kind === 'figure') {
    const { evidence: _opened, picture: _drawn, ...figure } = view;
    return [{ ...figure, plots: [] }];
  }
  if (view.kind === 'table') return [{ ...view, rows: [] }];
  if (view.kind === 'finding') return [{ ...view, seen: '', change: '', numbers: [] }];
  return [];
}

function openTable({ id, caption }: Readonly<Record<string, unknown>>): ResolvedBlock {
  const none = { columns: [], rows: [], note: '' };
  return {
    kind: 'table',
    id: String(id ?? ''),
    number: 0,
    caption: String(caption ?? ''),
    ...none,
  };
}

function blocksOf(node: DocNode, views: LiveViews): readonly ResolvedBlock[] {
  const { attrs = {} } = node;
  if (node.type === 'heading') {
    const level = attrs.level === 2 || attrs.level === 3 ? attrs.level : 1;
    const runs = [{ kind: 'text', text: wordsOf(node), marks: [], href: null }] as const;
    return [{ kind: 'heading', id: String(attrs.id ?? ''), level, number: '', runs }];
  }
  const view = views[liveKey(node.type, attrs)];
  if (view?.kind === 'blocks') return view.blocks.flatMap(counted);
  // What is still being computed has its number already: those after it would jump otherwise.
  if (view?.kind === 'waiting' || view?.kind === 'failed') return [openTable(attrs)];
  return (node.content ?? []).flatMap((child) => blocksOf(child, views));
}

function titleOf(block: ResolvedBlock): string {
  if (block.kind === 'figure' || block.kind === 'table') return block.caption;
  if (block.kind === 'finding') return block.title;
  const [run] = block.kind === 'heading' ? block.runs : [];
  return run?.kind === 'text' ? run.text : '';
}

/**
 * Everything in a draft that has a number, in order.
 *
 * @param doc the draft as it stands in the editor
 * @param views what its live blocks show; one that is not filled in yet is not counted
 */
export function draftTargets(doc: DocNode, views: LiveViews): readonly DraftTarget[] {
  const blocks = numberBlocks((doc.content ?? []).flatMap((node) => blocksOf(node, views)));
  const labels = referenceLabels(blocks);
  const seen = new Set<string>();
  return blocks.flatMap((block): readonly DraftTarget[] => {
    const label = labels.get(block.id);
    if (label === undefined || seen.has(block.id)) return [];
    seen.add(block.id);
    return [{ id: block.id, label, title: titleOf(block) }];
  });
}
