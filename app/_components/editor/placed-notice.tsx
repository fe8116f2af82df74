'use client';

import { type Editor, useEditorState } from '@tiptap/react';
import { useEffect } from 'react';
import { blockLabel } from '@/lib/view/debrief/editor-schema';
import { LIVE_PLACED, type LiveViews, liveKey, VALUE_TYPE } from '@/lib/view/debrief/live-nodes';
import styles from './editor.module.css';
import { useLiveViews } from './live-context';

type ShownNode = Readonly<{
  pos: number;
  /** Under which heading it stands; '' before the first. */
  section: string;
  type: string;
  placed: string | null;
  mark: string;
}>;

/** Every live node of which it is known what it shows now. */
function shownNodes(doc: Editor['state']['doc'], views: LiveViews): readonly ShownNode[] {
  const found: ShownNode[] = [];
  let section = '';
  doc.descendants((node, pos) => {
    if (node.type.name === 'heading') section = node.textContent.trim();
    if (!(LIVE_PLACED in node.attrs)) return;
    const { [LIVE_PLACED]: placed } = node.attrs;
    const view = views[liveKey(node.type.name, node.attrs)];
    if (view === undefined || !('mark' in view)) return;
    const before = typeof placed === 'string' ? placed : null;
    found.push({ pos, section, type: node.type.name, placed: before, mark: view.mark });
  });
  return found;
}

/** What they show becomes what they were placed with; no step of the history that undo would take back. */
function takeAsNow(editor: Editor, nodes: readonly ShownNode[], saves: 'saved' | 'by and by') {
  const { tr } = editor.state;
  for (const { pos, mark } of nodes) tr.setNodeAttribute(pos, LIVE_PLACED, mark);
  tr.setMeta('addToHistory', false);
  if (saves === 'by and by') tr.setMeta('preventUpdate', true);
  editor.view.dispatch(tr);
}

/** Most that are named one by one. */
const MOST_NAMED = 8;

function movedText({ type, section, placed, mark }: ShownNode): string {
  const where = section === '' ? '' : `, under \u201c${section}\u201d`;
  return type === VALUE_TYPE
    ? `${placed ?? ''} is ${mark} now${where}`
    : `${blockLabel(type)} shows something else${where}`;
}

/** Live blocks and values that have changed since they were placed, and the word that they are seen. */
export function PlacedNotice({ editor }: Readonly<{ editor: Editor }>) {
  const views = useLiveViews();
  const doc = useEditorState({
    editor,
    selector: (context) => context.editor.state.doc,
    equalityFn: (before, after) => before === after,
  });
  const nodes = shownNodes(doc, views);
  const fresh = nodes.filter(({ placed }) => placed === null);
  const moved = nodes.filter(({ placed, mark }) => placed !== null && placed !== mark);
  useEffect(() => {
    // With the next change: that a draft was opened is none.
    if (fresh.length > 0) takeAsNow(editor, fresh, 'by and by');
  });
  if (moved.length === 0) return null;
  return (
    <section className={styles.moved} aria-label="Changed since placed">
      <p>
        {moved.length === 1
          ? 'One live value or block has changed since it was placed:'
          : `${moved.length} live values and blocks have changed since they were placed:`}
      </p>
      <ul>
        {moved.slice(0, MOST_NAMED).map((each) => (
          <li key={each.pos}>{movedText(each)}</li>
        ))}
        {moved.length > MOST_NAMED && <li>and {moved.length - MOST_NAMED} more, marked below</li>}
      </ul>
      <button type="button" className="button" onClick={() => takeAsNow(editor, moved, 'saved')}>
        Take {moved.length === 1 ? 'it as it is' : 'all as they are'} now
      </button>
    </section>
  );
}
