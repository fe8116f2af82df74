/** The draft's node types for the editor, with its views added to the live ones. */
import type { AnyExtension, JSONContent, Node } from '@tiptap/core';
import type { DocNode } from '../../core/debrief/document';
import { documentExtensions, liveNodes } from '../../core/debrief/document-schema';
import { BUILT_IN_BLOCKS } from '../../core/debrief/nodes/built-in-blocks';
import { movedBoard, pollBoard } from '../../core/debrief/nodes/poll-board';

type Viewed = (node: Node) => Node;
export type NodeViews = Readonly<{ block: Viewed; value: Viewed; reference: Viewed }>;

/** @param views given each live node, returns it with a view of its own */
export function editorExtensions(views: NodeViews): readonly AnyExtension[] {
  const live = liveNodes(BUILT_IN_BLOCKS);
  return documentExtensions({
    blocks: live.blocks.map(views.block),
    value: views.value(live.value),
    reference: views.reference(live.reference),
  });
}

/** What people call a live block. */
export function blockLabel(type: string): string {
  return BUILT_IN_BLOCKS.get(type)?.label ?? type;
}

/** Node type of the board of an instant. */
export const BOARD_TYPE = pollBoard.name;

/** What changes of a board where its instant is typed anew. */
export const boardAt = movedBoard;

/** A document as the editor takes it: the same, in values that it may change. */
export function editorContent(node: DocNode): JSONContent {
  return {
    type: node.type,
    ...(node.attrs === undefined ? {} : { attrs: { ...node.attrs } }),
    ...(node.text === undefined ? {} : { text: node.text }),
    ...(node.content === undefined ? {} : { content: node.content.map(editorContent) }),
    ...(node.marks === undefined
      ? {}
      : { marks: node.marks.map(({ type, attrs }) => ({ type, attrs: { ...attrs } })) }),
  };
}
