/** An exported page read back as a tree: what it shows can then be held against its record. */

/** A piece of text has no tag; an element has no text of its own. */
export type PageNode = Readonly<{
  tag: string;
  attributes: Readonly<Record<string, string>>;
  children: readonly PageNode[];
  text: string;
}>;

type OpenNode = {
  tag: string;
  attributes: Record<string, string>;
  children: PageNode[];
  text: string;
};

/** Elements that never hold anything, and those whose content is not markup. HTML Living Standard, 13.1.2. */
const VOID = new Set(['meta', 'br', 'hr', 'link', 'img', 'input', 'wbr', 'base', 'col', 'source']);
const RAW = new Set(['script', 'style']);

const ENTITY: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
  nbsp: '\u00a0',
};

function decoded(text: string): string {
  return text.replace(/&(#x?[0-9a-f]+|[a-z]+);/gi, (whole, name: string) => {
    if (!name.startsWith('#')) return ENTITY[name] ?? whole;
    const code = /^#x/i.test(name) ? Number.parseInt(name.slice(2), 16) : Number(name.slice(1));
    return code <= 0x10ffff ? String.fromCodePoint(code) : whole;
  });
}

function attributesOf(text: string): Record<string, string> {
  const found: Record<string, string> = {};
  for (const [, name = '', quoted, plain] of text.matchAll(
    /([^\s"'=/]+)(?:\s*=\s*(?:"([^"]*)"|([^\s"'>]+)))?/g,
  )) {
    found[name.toLowerCase()] = decoded(quoted ?? plain ?? '');
  }
  return found;
}

const open = (tag: string, attributes: Record<string, string>): OpenNode => ({
  tag,
  attributes,
  children: [],
  text: '',
});

const PIECE = /<!--[\s\S]*?-->|<!doctype[^>]*>|<(\/?)([a-z][a-z0-9-]*)((?:[^>"]|"[^"]*")*)>/gi;

/**
 * Reads a page as this program writes them: every element closed, attributes in double quotes.
 *
 * @param html a whole page
 * @returns its root, whose children are what stands at the top; an end without a start is passed over
 *
 * Valid: for pages written by `renderHtml`; a browser's repair of broken markup is not followed.
 */
export function readPage(html: string): PageNode {
  const root = open('', {});
  const stack: OpenNode[] = [root];
  let at = 0;
  const addText = (to: number) => {
    if (to <= at) return;
    const text = decoded(html.slice(at, to));
    stack.at(-1)?.children.push({ ...open('', {}), text });
  };
  for (;;) {
    PIECE.lastIndex = at;
    const piece = PIECE.exec(html);
    if (piece === null) break;
    addText(piece.index);
    at = PIECE.lastIndex;
    const [, slash, written, rest = ''] = piece;
    if (written === undefined) continue;
    const tag = written.toLowerCase();
    if (slash === '/') {
      const start = stack.findLastIndex((each) => each.tag === tag);
      if (start > 0) stack.length = start;
      continue;
    }
    const node = open(tag, attributesOf(rest));
    stack.at(-1)?.children.push(node);
    if (RAW.has(tag)) {
      const end = html.indexOf(`</${tag}>`, at);
      const to = end < 0 ? html.length : end;
      node.children.push({ ...open('', {}), text: html.slice(at, to) });
      at = end < 0 ? to : to + tag.length + 3;
    } else if (!VOID.has(tag) && !rest.trimEnd().endsWith('/')) stack.push(node);
  }
  addText(html.length);
  return root;
}

/** Every element below a node, in the order of the page. */
export function elementsOf(node: PageNode): readonly PageNode[] {
  return node.children.flatMap((child) => (child.tag === '' ? [] : [child, ...elementsOf(child)]));
}

/** All text below a node. */
export function textOf(node: PageNode): string {
  return node.text + node.children.map(textOf).join('');
}
