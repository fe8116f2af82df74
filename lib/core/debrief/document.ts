/** A debrief's draft as stored: the editor's JSON, with a number for the schema it is written in. */

export type DocMark = Readonly<{ type: string; attrs?: Readonly<Record<string, unknown>> }>;

/** A node of the editor's JSON. */
export type DocNode = Readonly<{
  type: string;
  attrs?: Readonly<Record<string, unknown>>;
  content?: readonly DocNode[];
  marks?: readonly DocMark[];
  text?: string;
}>;

/** Raised by each change of the node types that old drafts have to be migrated for. */
export const DOCUMENT_SCHEMA = 1;

/** Ids of blocks: stable for the life of a block, given by the caller, never made from content. */
export const BLOCK_ID = /^[a-z0-9-]{4,40}$/;

/** Node types whose nodes carry an id when they stand at the top of a document. */
export const BLOCKS_WITH_ID = [
  'paragraph',
  'heading',
  'bulletList',
  'orderedList',
  'blockquote',
  'codeBlock',
  'horizontalRule',
  'table',
] as const;

/** Attribute of a heading: the id of the template's section that it begins, whatever it is called. */
export const SECTION_KEY = 'section';

/** Attribute of a live node: what it showed when it was placed. No part of what is published. */
export const LIVE_PLACED = 'placed';
/** Characters of it. */
export const LONGEST_PLACED = 400;

/** A node without what its live nodes showed when they were placed. */
export function withoutPlaced(node: DocNode): DocNode {
  const { attrs, content, ...rest } = node;
  const { [LIVE_PLACED]: _placed, ...own } = attrs ?? {};
  return {
    ...rest,
    ...(attrs === undefined ? {} : { attrs: own }),
    ...(content === undefined ? {} : { content: content.map(withoutPlaced) }),
  };
}

/** The id of a block; '' where it has none. */
export function blockId(node: DocNode): string {
  const id = node.attrs?.id;
  return typeof id === 'string' ? id : '';
}

/** All the words of a node, without what live blocks show. */
export function nodeText(node: DocNode): string {
  return (node.text ?? '') + (node.content ?? []).map(nodeText).join('');
}
