'use client';

import { type Editor, EditorContent, ReactNodeViewRenderer, useEditor } from '@tiptap/react';
import { useEffect, useRef, useState } from 'react';
import documentStyles from '@/app/_components/document/document.module.css';
import type { DocNode } from '@/lib/core/debrief/document';
import { editorContent, editorExtensions } from '@/lib/view/debrief/editor-schema';
import type { InsertMenu, LiveViews } from '@/lib/view/debrief/live-nodes';
import { withinBounds } from '@/lib/view/debrief/pasted-nodes';
import {
  FILES_LEFT_OUT,
  leftOutText,
  pastedWords,
  picturesIn,
} from '@/lib/view/debrief/pasted-words';
import { KeepBlockIds } from './block-ids';
import { ReferenceView, TargetsProvider } from './draft-targets';
import styles from './editor.module.css';
import { EditorToolbar } from './editor-toolbar';
import { HeadingLevels } from './heading-levels';
import { InsertDialog } from './insert-dialog';
import { LiveBlockView } from './live-block-view';
import { LiveProvider } from './live-context';
import { PlacedNotice } from './placed-notice';
import { pasteIntoTable } from './table-paste';
import { ValueView } from './value-view';

/** What the page around may do to the text. */
export type EditorHandle = Readonly<{ read: () => DocNode; write: (doc: DocNode) => void }>;

type DocumentEditorProps = Readonly<{
  initial: DocNode;
  live: LiveViews;
  menu: InsertMenu;
  resolve: (nodes: readonly DocNode[]) => Promise<LiveViews>;
  onChange: () => void;
  onReady: (handle: EditorHandle) => void;
}>;

const EXTENSIONS = [
  ...editorExtensions({
    block: (node) => node.extend({ addNodeView: () => ReactNodeViewRenderer(LiveBlockView) }),
    value: (node) =>
      node.extend({ addNodeView: () => ReactNodeViewRenderer(ValueView, { as: 'span' }) }),
    reference: (node) =>
      node.extend({ addNodeView: () => ReactNodeViewRenderer(ReferenceView, { as: 'span' }) }),
  }),
  KeepBlockIds,
  HeadingLevels,
];

/** `isAll`: there is nothing else, and a browser would open the file in place of this page. */
type Carried = Readonly<{ pictures: number; isAll: boolean }>;

/** Pictures that a paste or a drop carries, as files or in its words. */
function picturesOf(data: DataTransfer | null): Carried {
  if (data === null) return { pictures: 0, isAll: false };
  const html = data.getData('text/html');
  const files = [...data.files];
  const pictures = files.filter(({ type }) => type.startsWith('image/')).length;
  // Of a picture within words there may be a file beside it.
  const isAll = files.length > 0 && html === '' && data.getData('text/plain') === '';
  return { pictures: Math.max(pictures, picturesIn(html)), isAll };
}

/** The document as plain JSON: the editor's own attributes have no prototype and cannot be sent. */
function readDocument(editor: Editor): DocNode {
  return structuredClone(editor.state.doc.toJSON());
}

/** The draft's text with its live blocks. */
export function DocumentEditor({
  initial,
  live,
  menu,
  resolve,
  onChange,
  onReady,
}: DocumentEditorProps) {
  const insertDialog = useRef<HTMLDialogElement>(null);
  const [leftOut, setLeftOut] = useState<string | null>(null);
  const tell = ({ pictures, isAll }: Carried): boolean => {
    setLeftOut(isAll && pictures === 0 ? FILES_LEFT_OUT : leftOutText(pictures));
    return isAll;
  };
  const editor = useEditor({
    extensions: EXTENSIONS,
    content: editorContent(initial),
    immediatelyRender: false,
    shouldRerenderOnTransaction: false,
    injectCSS: false,
    onUpdate: onChange,
    editorProps: {
      transformPastedHTML: pastedWords,
      transformPasted: withinBounds,
      handlePaste: (view, event, slice) =>
        tell(picturesOf(event.clipboardData)) || pasteIntoTable(view, event, slice),
      handleDrop: (_view, event) => tell(picturesOf(event.dataTransfer)),
      attributes: {
        role: 'textbox',
        'aria-multiline': 'true',
        'aria-label': 'Text of the debrief',
        class: `${documentStyles.document} ${styles.text}`,
      },
    },
  });
  useEffect(() => {
    if (editor === null) return;
    onReady({
      read: () => readDocument(editor),
      write: (doc) => editor.commands.setContent(editorContent(doc), { emitUpdate: false }),
    });
  }, [editor, onReady]);
  if (editor === null) return <p className="soft">The editor is starting…</p>;
  return (
    <LiveProvider initial={live} resolve={resolve}>
      <TargetsProvider editor={editor}>
        <EditorToolbar editor={editor} onInsert={() => insertDialog.current?.showModal()} />
        <PlacedNotice editor={editor} />
        <div role="status">{leftOut !== null && <p className={styles.leftOut}>{leftOut}</p>}</div>
        <EditorContent editor={editor} />
        <InsertDialog editor={editor} menu={menu} dialog={insertDialog} />
      </TargetsProvider>
    </LiveProvider>
  );
}
