/** Bounds of a draft that the schema of its nodes does not state. Anything may have written the JSON. */
import { blockId, type DocNode } from './document';

const MOST_DEPTH = 24;
const MOST_NODES = 50_000;
const MOST_CHARACTERS = 4_000_000;
/** Columns or rows that a cell of a table may be over. */
export const MOST_SPAN = 50;
const MOST_TABLE_ROWS = 2000;
const NODE_KEYS = new Set(['type', 'attrs', 'content', 'marks', 'text']);
const MARK_KEYS = new Set(['type', 'attrs']);
/** Where a link may lead: the web or a mail address, in at most 2,000 characters. */
export const LINK_ADDRESS = /^(?:https?:\/\/|mailto:)[^\s\u0000-\u001f]{1,1990}$/i;
const CODE_LANGUAGE = /^[a-z0-9+#-]{0,20}$/i;

type Counter = { nodes: number; characters: number };

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function unknownKey(value: object, known: ReadonlySet<string>): string | null {
  return Object.keys(value).find((key) => !known.has(key)) ?? null;
}

function markFault(mark: unknown): string | null {
  if (!isObject(mark) || typeof mark.type !== 'string') return 'a mark without type';
  const key = unknownKey(mark, MARK_KEYS);
  if (key !== null) return `unknown key "${key}" in a mark`;
  if (mark.type !== 'link') return null;
  const href = isObject(mark.attrs) ? mark.attrs.href : undefined;
  return typeof href === 'string' && LINK_ADDRESS.test(href)
    ? null
    : 'a link that leads neither to the web nor to a mail address';
}

/** Whether a cell may be over so many columns or rows. */
export function isSpan(value: unknown): boolean {
  return typeof value === 'number' && Number.isInteger(value) && value >= 1 && value <= MOST_SPAN;
}

/** Whether a code block may name such a language; none is one. */
export function isCodeLanguage(value: unknown): boolean {
  const language = value ?? '';
  return typeof language === 'string' && CODE_LANGUAGE.test(language);
}

function cellFault(attrs: Readonly<Record<string, unknown>>): string | null {
  const { colspan = 1, rowspan = 1, colwidth = null } = attrs;
  if (!isSpan(colspan) || !isSpan(rowspan))
    return `a table cell whose span is not 1 to ${MOST_SPAN}`;
  const widths = Array.isArray(colwidth) ? colwidth : [];
  const fits = colwidth === null || (Array.isArray(colwidth) && widths.every(Number.isFinite));
  return fits ? null : 'a table cell whose column widths are not numbers';
}

function attributesFault(type: string, attrs: Readonly<Record<string, unknown>>): string | null {
  switch (type) {
    case 'heading':
      return attrs.level === 1 || attrs.level === 2 || attrs.level === 3
        ? null
        : 'a heading whose level is not 1, 2 or 3';
    case 'tableCell':
    case 'tableHeader':
      return cellFault(attrs);
    case 'codeBlock': {
      return isCodeLanguage(attrs.language)
        ? null
        : 'a code block whose language is not a plain word';
    }
    case 'orderedList': {
      const start = attrs.start ?? 1;
      return typeof start === 'number' && Number.isInteger(start)
        ? null
        : 'a list whose start is no number';
    }
    default:
      return null;
  }
}

function nodeFault(node: unknown, depth: number, counter: Counter): string | null {
  if (!isObject(node) || typeof node.type !== 'string') return 'something that is not a node';
  if (depth > MOST_DEPTH) return `blocks inside one another more than ${MOST_DEPTH} deep`;
  counter.nodes += 1;
  if (counter.nodes > MOST_NODES) return `more than ${MOST_NODES} nodes`;
  const key = unknownKey(node, NODE_KEYS);
  if (key !== null) return `unknown key "${key}" in a node`;
  if (node.text !== undefined && typeof node.text !== 'string') return 'a text that is not text';
  counter.characters += typeof node.text === 'string' ? node.text.length : 0;
  if (counter.characters > MOST_CHARACTERS) return `more than ${MOST_CHARACTERS} characters`;
  const attrs = node.attrs ?? {};
  if (!isObject(attrs)) return 'attributes that are not an object';
  const own = attributesFault(node.type, attrs);
  if (own !== null) return own;
  const marks: unknown = node.marks ?? [];
  const content: unknown = node.content ?? [];
  if (!Array.isArray(marks) || !Array.isArray(content)) return 'content that is not a list';
  if (node.type === 'table' && content.length > MOST_TABLE_ROWS) {
    return `a table of more than ${MOST_TABLE_ROWS} rows`;
  }
  for (const mark of marks) {
    const fault = markFault(mark);
    if (fault !== null) return fault;
  }
  for (const child of content) {
    const fault = nodeFault(child, depth + 1, counter);
    if (fault !== null) return fault;
  }
  return null;
}

/** Blocks at the top of a document each have an id of their own: merging goes by them. */
function idFault(doc: DocNode): string | null {
  const seen = new Set<string>();
  for (const block of doc.content ?? []) {
    const id = blockId(block);
    if (id === '') return 'a block without id';
    if (seen.has(id)) return `the block id "${id}" twice`;
    seen.add(id);
  }
  return null;
}

/**
 * Whether JSON is within bounds and shaped like a document at all.
 *
 * @param value anything that was parsed from JSON
 * @returns what it holds that it must not, in words; null where it is within bounds
 */
export function limitFault(value: unknown): string | null {
  const fault = nodeFault(value, 0, { nodes: 0, characters: 0 });
  if (fault !== null) return fault;
  return isDocument(value) ? idFault(value) : 'no document';
}

function isDocument(value: unknown): value is DocNode {
  return isObject(value) && value.type === 'doc';
}
