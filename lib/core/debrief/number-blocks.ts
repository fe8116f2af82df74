/** Numbers of headings, figures and tables, given in one pass over the whole document. */
import type { ResolvedBlock } from './resolved';

type Counters = { headings: [number, number, number]; figures: number; tables: number };

function headingNumber(counters: Counters, level: 1 | 2 | 3): string {
  const { headings } = counters;
  headings[level - 1] = (headings[level - 1] ?? 0) + 1;
  headings.fill(0, level);
  return headings.slice(0, level).join('.');
}

function numberOne(block: ResolvedBlock, counters: Counters): ResolvedBlock {
  switch (block.kind) {
    case 'heading':
      return { ...block, number: headingNumber(counters, block.level) };
    case 'figure':
      counters.figures += 1;
      return { ...block, number: counters.figures };
    case 'table':
      if (block.number === null) return block;
      counters.tables += 1;
      return { ...block, number: counters.tables };
    case 'list':
      return {
        ...block,
        items: block.items.map((item) => item.map((each) => numberOne(each, counters))),
      };
    case 'quote':
      return { ...block, blocks: block.blocks.map((each) => numberOne(each, counters)) };
    default:
      return block;
  }
}

/**
 * Headings become 1, 1.1, 1.1.1; figures and captioned tables are counted from 1, each on its own.
 *
 * A level that is left out counts as 0: a document that starts with a second level begins at 0.1,
 * which shows the fault in place of hiding it.
 */
export function numberBlocks(blocks: readonly ResolvedBlock[]): readonly ResolvedBlock[] {
  const counters: Counters = { headings: [0, 0, 0], figures: 0, tables: 0 };
  return blocks.map((block) => numberOne(block, counters));
}
