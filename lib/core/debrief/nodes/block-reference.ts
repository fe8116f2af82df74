/** A reference inside a sentence to a section, figure, table or finding: its number follows the document. */
import { z } from 'zod';
import { BLOCK_ID } from '../document';
import type { ResolvedBlock, Run, TextRun } from '../resolved';

/** Node type of a reference. */
export const BLOCK_REFERENCE = 'blockReference';

/** Attributes of the inline node: the id of the block that is meant. */
export const blockReferenceShape = { target: z.string().regex(BLOCK_ID) };

const schema = z.strictObject(blockReferenceShape);

/** What is wrong with one attribute, as one sentence; null when nothing is. */
export function blockReferenceAttributeFault(name: string, value: unknown): string | null {
  if (name !== 'target') return null;
  const issue = schema.shape.target.safeParse(value).error?.issues[0];
  return issue === undefined ? null : `${BLOCK_REFERENCE}.${name}: ${issue.message}`;
}

/** A run whose words are not known before all blocks are numbered. */
export function openReference(attributes: unknown): TextRun {
  const parsed = schema.safeParse(attributes);
  const target = parsed.success ? parsed.data.target : '';
  return { kind: 'text', text: '', marks: [], href: `#${target}` };
}

/** The block that a run leads to within its document; null for words and for addresses of the web. */
export function targetOf({ href }: TextRun): string | null {
  return href?.startsWith('#') === true ? href.slice(1) : null;
}

function labelOf(block: ResolvedBlock): string | null {
  if (block.kind === 'heading') return `Section ${block.number}`;
  if (block.kind === 'figure' && block.number !== null) return `Figure ${block.number}`;
  if (block.kind === 'table' && block.number !== null) return `Table ${block.number}`;
  return block.kind === 'finding' ? `Finding ${block.number}` : null;
}

function insideOf(block: ResolvedBlock): readonly ResolvedBlock[] {
  if (block.kind === 'list') return block.items.flat();
  return block.kind === 'quote' ? block.blocks : [];
}

/** What each block is called in a sentence, by its id; of two under one id the first counts. */
export function referenceLabels(blocks: readonly ResolvedBlock[]): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const visit = (block: ResolvedBlock): void => {
    const label = labelOf(block);
    if (label !== null && block.id !== '' && !found.has(block.id)) found.set(block.id, label);
    for (const each of insideOf(block)) visit(each);
  };
  for (const block of blocks) visit(block);
  return found;
}

function runsIn(block: ResolvedBlock): readonly Run[] {
  if (block.kind === 'heading' || block.kind === 'paragraph') return block.runs;
  if (block.kind === 'table') return block.rows.flat().flatMap(({ runs }) => runs);
  return insideOf(block).flatMap(runsIn);
}

/** Ids of the blocks that a reference leads to: where an export puts a mark. */
export function referredIds(blocks: readonly ResolvedBlock[]): ReadonlySet<string> {
  const labels = referenceLabels(blocks);
  const targets = blocks
    .flatMap(runsIn)
    .map((run) => (run.kind === 'text' ? (targetOf(run) ?? '') : ''));
  return new Set(targets.filter((id) => BLOCK_ID.test(id) && labels.has(id)));
}

/** Words of a reference to something that is not there: publishing is refused while they stand. */
export const LOST_REFERENCE = '[reference to what is no longer here]';

function filledRun(run: Run, labels: ReadonlyMap<string, string>): Run {
  const target = run.kind === 'text' && run.text === '' ? targetOf(run) : null;
  if (run.kind !== 'text' || target === null) return run;
  const text = labels.get(target);
  return text === undefined ? { ...run, text: LOST_REFERENCE, href: null } : { ...run, text };
}

/** Puts the words of references in, once all blocks have their numbers. */
export function fillReferences(blocks: readonly ResolvedBlock[]): readonly ResolvedBlock[] {
  const labels = referenceLabels(blocks);
  const runs = (list: readonly Run[]) => list.map((run) => filledRun(run, labels));
  const fill = (block: ResolvedBlock): ResolvedBlock => {
    switch (block.kind) {
      case 'heading':
      case 'paragraph':
        return { ...block, runs: runs(block.runs) };
      case 'list':
        return { ...block, items: block.items.map((item) => item.map(fill)) };
      case 'quote':
        return { ...block, blocks: block.blocks.map(fill) };
      case 'table': {
        const rows = block.rows.map((row) =>
          row.map((cell) => ({ ...cell, runs: runs(cell.runs) })),
        );
        return { ...block, rows };
      }
      default:
        return block;
    }
  };
  return blocks.map(fill);
}
