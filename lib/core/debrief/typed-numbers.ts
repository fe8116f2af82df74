/** Numbers that stand in a draft's prose as typed characters: no figure stands behind them. */
import type { DocNode } from './document';
import { FIGURE_VALUE } from './nodes/figure-value';

/** Units in which an approach is told; common practice, no source. */
const UNIT =
  '(?:[km]?m|cm|ft|in|k?g|lb|N|Nm|Hz|V|A|W|[km]?s|min|h|d|deg|\u00b0|m?rad|%|ppm)(?:/(?:s|min|h|m|s\u00b2|s2))?';

/** A clock reading, a number with decimals, or one with a unit. Counts and names stay out. */
const TYPED = new RegExp(
  `(?<!\\d{4}-\\d{2}-\\d{2}[ T])(?<![\\w.:/#\u201c-])[+\u2212-]?(?:\\d{1,3}(?::\\d{2}){1,2}(?:\\.\\d+)?|\\d+[.,]\\d+(?:[\\s\u00a0]?${UNIT})?|\\d+[\\s\u00a0]?${UNIT})(?![\\w:/-])`,
  'g',
);

/** Pieces of prose between live values, as they stand in one line of a block. */
export function proseOf(node: DocNode): readonly string[] {
  if (node.type === 'codeBlock') return [];
  const children = node.content ?? [];
  const isLine = children.some(({ type }) => type === 'text' || type === FIGURE_VALUE);
  if (!isLine) return children.flatMap(proseOf);
  const pieces = [''];
  for (const { type, text = '' } of children) {
    if (type === 'text') pieces.push(`${pieces.pop() ?? ''}${text}`);
    else pieces.push('');
  }
  return pieces.filter((piece) => piece.trim() !== '');
}

/**
 * Numbers typed by hand in one block.
 *
 * @param block any node of a draft; code is passed over
 * @param drafted pieces of prose that the program itself writes for this session
 * @returns them as typed, in order, each once
 */
export function typedNumbers(block: DocNode, drafted: ReadonlySet<string>): readonly string[] {
  const found = proseOf(block)
    .filter((piece) => !drafted.has(piece))
    .flatMap((piece) => [...piece.matchAll(TYPED)].map(([typed]) => typed));
  return [...new Set(found)];
}
