/** An SVG element as data: JSON-safe, so that a page can build it from elements of its own. */
import { escapeMarkup } from './markup';

/** `text` comes before the children; an element of a plot has one or the other. */
export type SvgNode = Readonly<{
  tag: string;
  attributes: Readonly<Record<string, string>>;
  children: readonly SvgNode[];
  text: string;
}>;

/** The element as markup. Tags and attribute names are ours; values and text are escaped. */
export function svgText(node: SvgNode): string {
  const attributes = Object.entries(node.attributes)
    .map(([name, value]) => ` ${name}="${escapeMarkup(value)}"`)
    .join('');
  const inner = escapeMarkup(node.text) + node.children.map(svgText).join('');
  return inner === ''
    ? `<${node.tag}${attributes}/>`
    : `<${node.tag}${attributes}>${inner}</${node.tag}>`;
}
