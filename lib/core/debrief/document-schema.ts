/**
 * The node types of a draft, once, for the editor and for the check of what is stored. No page and no
 * element is touched here: the editor adds how a node looks, the server only asks whether it fits.
 */
import { type AnyExtension, Extension, getSchema, mergeAttributes, Node } from '@tiptap/core';
import { TableKit } from '@tiptap/extension-table';
import type { Schema } from '@tiptap/pm/model';
import StarterKit from '@tiptap/starter-kit';
import { BLOCK_ID, BLOCKS_WITH_ID, LIVE_PLACED, LONGEST_PLACED, SECTION_KEY } from './document';
import { LINK_ADDRESS } from './document-limits';
import type { Block, BlockRegistry } from './nodes/block';
import {
  BLOCK_REFERENCE,
  blockReferenceAttributeFault,
  blockReferenceShape,
} from './nodes/block-reference';
import { FIGURE_VALUE, figureValueAttributeFault, figureValueShape } from './nodes/figure-value';

/** Protocols a link may have. */
export const LINK_PROTOCOLS = ['https', 'http', 'mailto'] as const;

function refuse(fault: string | null): void {
  if (fault !== null) throw new RangeError(fault);
}

function checkId(value: unknown): void {
  const fits = value === null || (typeof value === 'string' && BLOCK_ID.test(value));
  refuse(fits ? null : 'id: not a block id');
}

/** Characters of a section's id. */
const LONGEST_SECTION_KEY = 400;

function checkPlaced(value: unknown): void {
  const fits = value === null || (typeof value === 'string' && value.length <= LONGEST_PLACED);
  refuse(fits ? null : `${LIVE_PLACED}: not what a live node showed`);
}

type Checks = (value: unknown) => void;

const dataName = (name: string): string => `data-${name.toLowerCase()}`;

/** What an element says of an attribute; null for what does not fit: any page may use such names. */
function attributeOf(element: HTMLElement, name: string, validate: Checks): unknown {
  const text = element.getAttribute(dataName(name));
  if (text === null) return null;
  try {
    const value: unknown = JSON.parse(text);
    validate(value);
    return value;
  } catch {
    return null;
  }
}

/** A JSON value as an attribute of an element, for copy and paste between documents. */
function jsonAttribute(name: string, validate: Checks) {
  return {
    default: null,
    validate,
    parseHTML: (element: HTMLElement): unknown => attributeOf(element, name, validate),
    renderHTML: (attributes: Readonly<Record<string, unknown>>) => ({
      [dataName(name)]: JSON.stringify(attributes[name]),
    }),
  };
}

/** Takes an element for a live node only where all that the node needs can be read from it. */
function whole(names: readonly string[], fault: (name: string, value: unknown) => string | null) {
  return (element: HTMLElement): null | false => {
    const isWhole = names.every((name) => {
      const value = attributeOf(element, name, () => {});
      return fault(name, value) === null;
    });
    return isWhole ? null : false;
  };
}

/** Ids of the ordinary blocks; live blocks have theirs among their own attributes. */
const BlockIds = Extension.create({
  name: 'blockIds',
  addGlobalAttributes: () => [
    {
      types: [...BLOCKS_WITH_ID],
      attributes: { id: { ...jsonAttribute('id', checkId), keepOnSplit: false } },
    },
  ],
});

function checkSection(value: unknown): void {
  const fits = value === null || (typeof value === 'string' && value.length <= LONGEST_SECTION_KEY);
  refuse(fits ? null : `${SECTION_KEY}: not the id of a section`);
}

/** Headings keep which section of a template they begin; the second half of a split one does not. */
const SectionKeys = Extension.create({
  name: 'sectionKeys',
  addGlobalAttributes: () => [
    {
      types: ['heading'],
      attributes: {
        [SECTION_KEY]: { ...jsonAttribute(SECTION_KEY, checkSection), keepOnSplit: false },
      },
    },
  ],
});

/** A live block: nothing inside that could be edited, shown by its node view. */
function blockNode(block: Block): Node {
  return Node.create({
    name: block.name,
    group: 'block',
    atom: true,
    draggable: true,
    selectable: true,
    addAttributes: () => ({
      id: jsonAttribute('id', checkId),
      [LIVE_PLACED]: jsonAttribute(LIVE_PLACED, checkPlaced),
      ...Object.fromEntries(
        block.attributeNames.map((name) => [
          name,
          jsonAttribute(name, (value) => refuse(block.attributeFault(name, value))),
        ]),
      ),
    }),
    parseHTML: () => [
      {
        tag: `div[data-block="${block.name}"]`,
        getAttrs: whole(block.attributeNames, block.attributeFault),
      },
    ],
    renderHTML: ({ HTMLAttributes }) => [
      'div',
      mergeAttributes({ 'data-block': block.name }, HTMLAttributes),
    ],
    renderText: () => `[${block.label}]`,
  });
}

type InlineNode = Readonly<{
  name: string;
  /** Attribute of the element that it is copied as. */
  mark: string;
  attributes: readonly string[];
  placed: Readonly<Record<string, ReturnType<typeof jsonAttribute>>>;
  fault: (name: string, value: unknown) => string | null;
  /** Its words where text alone is wanted. */
  plain: (attributes: Readonly<Record<string, unknown>>) => string;
}>;

/** Something inside a sentence that is shown as it stands and not typed over. */
function inlineNode({ name, mark, attributes, placed, fault, plain }: InlineNode): Node {
  return Node.create({
    name,
    group: 'inline',
    inline: true,
    atom: true,
    selectable: true,
    addAttributes: () => ({
      ...placed,
      ...Object.fromEntries(
        attributes.map((each) => [
          each,
          jsonAttribute(each, (value) => refuse(fault(each, value))),
        ]),
      ),
    }),
    parseHTML: () => [{ tag: `span[${mark}="${name}"]`, getAttrs: whole(attributes, fault) }],
    renderHTML: ({ HTMLAttributes }) => ['span', mergeAttributes({ [mark]: name }, HTMLAttributes)],
    renderText: ({ node }) => plain(node.attrs),
  });
}

const figureValueNode = (): Node =>
  inlineNode({
    name: FIGURE_VALUE,
    mark: 'data-value',
    attributes: Object.keys(figureValueShape),
    placed: { [LIVE_PLACED]: jsonAttribute(LIVE_PLACED, checkPlaced) },
    fault: figureValueAttributeFault,
    plain: ({ key }) => `[${String(key)}]`,
  });

const blockReferenceNode = (): Node =>
  inlineNode({
    name: BLOCK_REFERENCE,
    mark: 'data-reference',
    attributes: Object.keys(blockReferenceShape),
    placed: {},
    fault: blockReferenceAttributeFault,
    plain: () => '[reference]',
  });

/** Live nodes by kind, so that an editor can add its views to them. */
export type LiveNodes = Readonly<{ blocks: readonly Node[]; value: Node; reference: Node }>;

export function liveNodes(registry: BlockRegistry): LiveNodes {
  return {
    blocks: [...registry.values()].map(blockNode),
    value: figureValueNode(),
    reference: blockReferenceNode(),
  };
}

/** Everything a draft is made of. `live` is given back by the editor with views added. */
export function documentExtensions(live: LiveNodes): readonly AnyExtension[] {
  return [
    StarterKit.configure({
      heading: { levels: [1, 2, 3] },
      trailingNode: false,
      link: {
        protocols: [...LINK_PROTOCOLS],
        isAllowedUri: (address) => LINK_ADDRESS.test(address),
        openOnClick: false,
        autolink: false,
        HTMLAttributes: { rel: 'noopener noreferrer nofollow', target: null },
      },
    }),
    TableKit.configure({ table: { resizable: false } }),
    BlockIds,
    SectionKeys,
    ...live.blocks,
    live.value,
    live.reference,
  ];
}

/** The schema that stored drafts are held against. */
export function documentSchema(registry: BlockRegistry): Schema {
  return getSchema([...documentExtensions(liveNodes(registry))]);
}
