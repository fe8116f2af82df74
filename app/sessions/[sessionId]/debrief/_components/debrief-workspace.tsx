'use client';

import { useCallback, useRef, useState } from 'react';
import { DocumentEditor, type EditorHandle } from '@/app/_components/editor/document-editor';
import type { DocumentCheck } from '@/lib/core/debrief/check-document';
import type { DocNode } from '@/lib/core/debrief/document';
import type { InsertMenu, LiveViews } from '@/lib/view/debrief/live-nodes';
import { readChecks, resolveNodes } from '../actions';
import { ConflictPanel } from './conflict-panel';
import styles from './debrief.module.css';
import { KeptNotice } from './kept-notice';
import { PublishDialog } from './publish-dialog';
import { SaveLine } from './save-line';
import { type Draft, useAutosave } from './use-autosave';

type DebriefWorkspaceProps = Readonly<{
  sessionId: string;
  draft: Draft;
  live: LiveViews;
  menu: InsertMenu;
  publishLabel: string;
}>;

type Ready = Readonly<{ version: number; checks: readonly DocumentCheck[] }>;

/** The draft on the screen: title, text, whether it is saved, and the way to publish it. */
export function DebriefWorkspace({
  sessionId,
  draft,
  live,
  menu,
  publishLabel,
}: DebriefWorkspaceProps) {
  const editor = useRef<EditorHandle | null>(null);
  const dialog = useRef<HTMLDialogElement>(null);
  const [title, setTitle] = useState(draft.title);
  const titleRef = useRef(draft.title);
  const [ready, setReady] = useState<Ready | null>(null);
  const { state, touch, flush, adopt } = useAutosave({
    sessionId,
    initial: draft,
    editor,
    title: titleRef,
  });
  const resolve = useCallback(
    (nodes: readonly DocNode[]) => resolveNodes(sessionId, nodes),
    [sessionId],
  );
  const onReady = useCallback((handle: EditorHandle) => {
    editor.current = handle;
  }, []);
  const changeTitle = (text: string) => {
    titleRef.current = text;
    setTitle(text);
    if (text.trim() !== '') touch();
  };
  const openPublish = async () => {
    setReady(null);
    dialog.current?.showModal();
    const version = await flush();
    if (version === null) dialog.current?.close();
    else setReady({ version, checks: await readChecks(sessionId) });
  };
  return (
    <>
      <KeptNotice
        sessionId={sessionId}
        onTake={(kept) => {
          changeTitle(kept.title);
          adopt({ ...kept, version: draft.version }, draft.body);
        }}
      />
      {state.kind === 'conflict' && (
        <ConflictPanel conflict={state} onSettle={(settled) => adopt(settled, state.theirs.body)} />
      )}
      <section className={`panel ${styles.sheet}`} aria-label="Draft">
        <div className={styles.head}>
          <label className={styles.stacked}>
            Title
            <input
              type="text"
              value={title}
              maxLength={200}
              onChange={(event) => changeTitle(event.target.value)}
            />
          </label>
          <SaveLine state={state} />
          <button type="button" className="button primary" onClick={openPublish}>
            Publish…
          </button>
        </div>
        <DocumentEditor
          initial={draft.body}
          live={live}
          menu={menu}
          resolve={resolve}
          onChange={touch}
          onReady={onReady}
        />
      </section>
      <PublishDialog
        dialog={dialog}
        sessionId={sessionId}
        label={publishLabel}
        title={title}
        onTitle={changeTitle}
        ready={ready}
        flush={flush}
      />
    </>
  );
}
