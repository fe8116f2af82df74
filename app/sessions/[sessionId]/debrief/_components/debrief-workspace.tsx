'use client';

import { useCallback, useRef, useState } from 'react';
import { DocumentEditor, type EditorHandle } from '@/app/_components/editor/document-editor';
import type { DocNode } from '@/lib/core/debrief/document';
import type { InsertMenu, LiveViews } from '@/lib/view/debrief/live-nodes';
import { resolveNodes } from '../actions';
import { ConflictPanel } from './conflict-panel';
import styles from './debrief.module.css';
import { DecisionStrip } from './decision-strip';
import { EarlierVersions } from './earlier-versions';
import { KeptNotice } from './kept-notice';
import { NewerNotice } from './newer-notice';
import { PublishDialog } from './publish-dialog';
import { SaveLine } from './save-line';
import { type Draft, useAutosave } from './use-autosave';
import { useReadyCheck } from './use-ready-check';

type DebriefWorkspaceProps = Readonly<{
  sessionId: string;
  draft: Draft;
  live: LiveViews;
  menu: InsertMenu;
  publishLabel: string;
  isRevision: boolean;
}>;

/** The draft on the screen: title, text, whether it is saved, and the way to publish it. */
export function DebriefWorkspace({
  sessionId,
  draft,
  live,
  menu,
  publishLabel,
  isRevision,
}: DebriefWorkspaceProps) {
  const editor = useRef<EditorHandle | null>(null);
  const dialog = useRef<HTMLDialogElement>(null);
  const choice = useRef<HTMLHeadingElement>(null);
  const [title, setTitle] = useState(draft.title);
  const titleRef = useRef(draft.title);
  const { state, touch, flush, adopt, choose, look, take } = useAutosave({
    sessionId,
    initial: draft,
    editor,
    title: titleRef,
  });
  const { ready, prepare } = useReadyCheck(sessionId, { flush, look });
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
  const showChoice = () => {
    dialog.current?.close();
    choice.current?.scrollIntoView({ block: 'start' });
    choice.current?.focus({ preventScroll: true });
  };
  const show = (newer: Draft) => {
    take(newer);
    setTitle(newer.title);
    if (dialog.current?.open) void prepare();
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
        <ConflictPanel sessionId={sessionId} conflict={state} heading={choice} onChoose={choose} />
      )}
      {state.kind === 'behind' && <NewerNotice sessionId={sessionId} state={state} onTake={show} />}
      <EarlierVersions
        sessionId={sessionId}
        current={() => editor.current?.read()}
        onBring={(body) => {
          editor.current?.write(body);
          touch();
        }}
      />
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
          <button
            type="button"
            className="button primary"
            onClick={() => {
              dialog.current?.showModal();
              void prepare();
            }}
          >
            Approve or publish…
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
      <DecisionStrip state={state} onShowChoice={showChoice} onShow={show} />
      <PublishDialog
        dialog={dialog}
        sessionId={sessionId}
        label={publishLabel}
        isRevision={isRevision}
        title={title}
        onTitle={changeTitle}
        ready={ready}
        state={state}
        flush={flush}
        look={look}
        onAgain={prepare}
        onShow={show}
        onShowChoice={showChoice}
      />
    </>
  );
}
