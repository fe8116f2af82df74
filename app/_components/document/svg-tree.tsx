import { createElement, type ReactElement } from 'react';
import type { SvgNode } from '@/lib/core/debrief/svg-node';

type SvgTreeProps = Readonly<{ node: SvgNode }>;

/** React's own spelling of an attribute: `stroke-width` becomes `strokeWidth`. */
function propName(name: string): string {
  if (name === 'class') return 'className';
  if (name.startsWith('aria-') || name.startsWith('data-')) return name;
  return name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
}

function toElement(node: SvgNode, key: number): ReactElement {
  const props = Object.entries(node.attributes).map(([name, value]) => [propName(name), value]);
  const children = node.text === '' ? node.children.map(toElement) : node.text;
  return createElement(node.tag, { ...Object.fromEntries(props), key }, children);
}

/** A picture that was drawn as data. Its tags and attributes are the program's own. */
export function SvgTree({ node }: SvgTreeProps) {
  return toElement(node, 0);
}
