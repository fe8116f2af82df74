/** Draft document + reconstruction + findings -> a document in which everything is decided. */
import type { DebriefMaterial } from './debrief-material';
import { blockId, type DocNode } from './document';
import type { BlockRegistry } from './nodes/block';
import { BLOCK_REFERENCE, fillReferences, openReference } from './nodes/block-reference';
import { FIGURE_VALUE, resolveFigureValue } from './nodes/figure-value';
import { numberBlocks } from './number-blocks';
import { openEvidenceBook, type ResolveContext, textRun } from './resolve-context';
import { resolveTable } from './resolve-table';
import type { ResolvedBlock, ResolvedDocument, Run, TextMark } from './resolved';

const MARKS: Readonly<Record<string, TextMark>> = {
  bold: 'bold',
  italic: 'italic',
  underline: 'underline',
  strike: 'strike',
  code: 'code',
};

function linkOf(node: DocNode): string | null {
  const href = node.marks?.find((mark) => mark.type === 'link')?.attrs?.href;
  return typeof href === 'string' ? href : null;
}

/** Words, breaks and inline values of a node, in order. */
export function resolveRuns(node: DocNode, context: ResolveContext): readonly Run[] {
  return (node.content ?? []).flatMap((child): Run[] => {
    if (child.type === 'text') {
      const marks = (child.marks ?? []).flatMap((mark) => MARKS[mark.type] ?? []);
      return [{ ...textRun(child.text ?? ''), marks, href: linkOf(child) }];
    }
    if (child.type === 'hardBreak') return [{ kind: 'break' }];
    if (child.type === FIGURE_VALUE) return [resolveFigureValue(child.attrs, context)];
    if (child.type === BLOCK_REFERENCE) return [openReference(child.attrs)];
    return [];
  });
}

function headingLevel(node: DocNode): 1 | 2 | 3 {
  const level = node.attrs?.level;
  return level === 2 || level === 3 ? level : 1;
}

function plainCode(node: DocNode): string {
  return (node.content ?? []).map((child) => textRun(child.text ?? '').text).join('');
}

function resolveNodes(
  nodes: readonly DocNode[],
  registry: BlockRegistry,
  context: ResolveContext,
): readonly ResolvedBlock[] {
  return nodes.flatMap((node): readonly ResolvedBlock[] => {
    const id = blockId(node);
    const inside = node.content ?? [];
    switch (node.type) {
      case 'paragraph':
        return [{ kind: 'paragraph', id, runs: resolveRuns(node, context) }];
      case 'heading':
        return [
          {
            kind: 'heading',
            id,
            level: headingLevel(node),
            number: '',
            runs: resolveRuns(node, context),
          },
        ];
      case 'bulletList':
      case 'orderedList': {
        const items = inside.map((item) => resolveNodes(item.content ?? [], registry, context));
        return [{ kind: 'list', id, ordered: node.type === 'orderedList', items }];
      }
      case 'blockquote':
        return [{ kind: 'quote', id, blocks: resolveNodes(inside, registry, context) }];
      case 'codeBlock':
        return [{ kind: 'code', id, text: plainCode(node) }];
      case 'horizontalRule':
        return [{ kind: 'divider', id }];
      case 'table':
        return [resolveTable(node, context, resolveRuns)];
      default: {
        const block = registry.get(node.type);
        const message = `A block of the kind "${textRun(node.type).text}", which is not known here.`;
        return block?.resolve(node.attrs, context) ?? [{ kind: 'missing', id, message }];
      }
    }
  });
}

/** A context for resolving single blocks, as the editor shows them. */
export function openContext(material: DebriefMaterial): ResolveContext {
  const known = material.reconstruction.sources.map(({ file, sha256 }) => ({ file, sha256 }));
  return { material, book: openEvidenceBook(known) };
}

/**
 * Resolves a whole draft.
 *
 * @param doc the draft's `doc` node, already checked by `loadDocument`
 * @param material what its live blocks and values are taken from
 * @param registry the blocks that are known
 * @returns blocks with numbers given to headings, figures and tables, and to references to them; each
 *   number with its evidence
 */
export function resolveDocument(
  doc: DocNode,
  material: DebriefMaterial,
  registry: BlockRegistry,
): ResolvedDocument {
  const context = openContext(material);
  const blocks = fillReferences(numberBlocks(resolveNodes(doc.content ?? [], registry, context)));
  return { blocks, evidence: context.book.evidence(), sources: context.book.sources() };
}

/** One block on its own, not numbered. */
export function resolveBlock(
  node: DocNode,
  context: ResolveContext,
  registry: BlockRegistry,
): readonly ResolvedBlock[] {
  return resolveNodes([node], registry, context);
}
