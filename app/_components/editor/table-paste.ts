/** Cells pasted into a table: over its own cells, or, where that cannot be, into one cell as words. */
import type { Slice } from '@tiptap/pm/model';
import { tableEditingKey } from '@tiptap/pm/tables';
import type { EditorView } from '@tiptap/pm/view';

/**
 * The table's own way to take cells fails on some tables with merged cells that have to grow, and what
 * was copied would be nowhere.
 *
 * @returns true where the paste is dealt with
 */
export function pasteIntoTable(view: EditorView, event: ClipboardEvent, slice: Slice): boolean {
  const plugin = tableEditingKey.get(view.state);
  try {
    return plugin?.props.handlePaste?.call(plugin, view, event, slice) === true;
  } catch {
    const { content } = slice;
    return view.pasteText(content.textBetween(0, content.size, '\n'), event);
  }
}
