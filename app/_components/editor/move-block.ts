import type { Editor } from '@tiptap/react';

/** Changes places with the block before or after; nothing happens at the ends. */
export function moveBlock(editor: Editor, from: number | undefined, way: 'up' | 'down'): void {
  if (from === undefined) return;
  const { doc, tr } = editor.state;
  const place = doc.resolve(from);
  const index = place.index();
  const parent = place.parent;
  const node = parent.maybeChild(index);
  const other = parent.maybeChild(way === 'up' ? index - 1 : index + 1);
  if (node === null || node === undefined || other === null || other === undefined) return;
  const to = way === 'up' ? from - other.nodeSize : from + other.nodeSize;
  tr.delete(from, from + node.nodeSize).insert(to, node);
  editor.view.dispatch(tr.scrollIntoView());
}
