'use client';

import { type RefObject, useCallback, useEffect, useRef, useState } from 'react';
import type { EditorHandle } from '@/app/_components/editor/document-editor';
import type { DocNode } from '@/lib/core/debrief/document';
import { type ServerFailure, serverFailure } from '@/lib/view/debrief/server-failure';
import { conflictsOf, rebase, type Side, settle } from '@/lib/view/debrief/settle';
import { readDraft, readDraftStamp, saveDraft } from '../actions';
import { forgetText, keepText } from './kept-text';
import { useLookNowAndThen } from './use-look-now-and-then';

/** How long a pause in typing is before the text is saved. */
const PAUSE_MS = 2000;
/** How long after a save that did not reach the server the next is tried. */
const RETRY_MS = 5000;

export type Draft = Readonly<{ version: number; title: string; body: DocNode }>;

export type SaveState =
  /** `withdrawn`: approvals that the changes made here have withdrawn. */
  | Readonly<{ kind: 'saved'; version: number; withdrawn: number }>
  | Readonly<{ kind: 'changed' }>
  | Readonly<{ kind: 'saving' }>
  /** `failure` tells a server not reached from one that met a fault of its own. */
  | Readonly<{ kind: 'offline'; kept: boolean; failure: ServerFailure }>
  | Readonly<{ kind: 'refused'; message: string }>
  | Conflicted
  /** Somebody else saved; nothing here has been changed since. */
  | Readonly<{ kind: 'behind'; shown: DocNode; theirs: SavedDraft }>;

export type Conflicted = Readonly<{
  kind: 'conflict';
  base: DocNode;
  mine: Draft;
  theirs: Draft;
}>;

type SavedDraft = Draft & Readonly<{ by: string; updatedAtIso: string }>;

export type Autosave = Readonly<{
  state: SaveState;
  /** The text or the title has changed. */
  touch: () => void;
  /** Saves now; resolves to the version when all is saved, null when it could not be. */
  flush: () => Promise<number | null>;
  /** Goes on from another text: what was kept in the browser, or an earlier version. */
  adopt: (draft: Draft, base: DocNode) => void;
  /** Ends a conflict with the sides chosen; asks on where typing since has made another. */
  choose: (sides: Readonly<Record<string, Side>>) => void;
  /** Whether what is stored is what is shown; where it is not, the state says so. */
  look: () => Promise<boolean>;
  /** Shows what somebody else saved. */
  take: (draft: Draft) => void;
}>;

type Parts = Readonly<{
  sessionId: string;
  initial: Draft;
  editor: RefObject<EditorHandle | null>;
  title: RefObject<string>;
}>;

const savedAs = (version: number, withdrawn: number): SaveState => ({
  kind: 'saved',
  version,
  withdrawn,
});

/** Saves a draft every few seconds by version; never loses a text without saying so. */
export function useAutosave({ sessionId, initial, editor, title }: Parts): Autosave {
  const [state, setState] = useState<SaveState>(savedAs(initial.version, 0));
  const withdrawn = useRef(0);
  const stored = useRef<Draft>(initial);
  const dirty = useRef(false);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const running = useRef<Promise<number | null> | null>(null);
  const saveRef = useRef<() => Promise<number | null>>(async () => null);
  const conflict = useRef<Conflicted | null>(null);

  const later = useCallback((delayMs: number) => {
    clearTimeout(timer.current);
    timer.current = setTimeout(() => void saveRef.current(), delayMs);
  }, []);

  const saveOnce = useCallback(async (): Promise<number | null> => {
    const body = editor.current?.read();
    if (body === undefined || !dirty.current) return stored.current.version;
    if (conflict.current !== null) {
      // Nothing is saved before a person has chosen; what was typed since joins the choice.
      conflict.current = { ...conflict.current, mine: { ...conflict.current.mine, body } };
      keepText(sessionId, { ...conflict.current.mine, atIso: new Date().toISOString() });
      setState(conflict.current);
      return null;
    }
    dirty.current = false;
    const base = stored.current;
    const mine = { version: base.version, title: title.current, body };
    setState({ kind: 'saving' });
    const result = await saveDraft(sessionId, mine).catch(serverFailure);
    if (result === 'not reached' || result === 'at fault') {
      dirty.current = true;
      const kept = keepText(sessionId, { ...mine, atIso: new Date().toISOString() });
      setState({ kind: 'offline', kept, failure: result });
      later(RETRY_MS);
      return null;
    }
    if (result.ok) {
      const { version, body: merged, withdrawnApprovals } = result.data;
      withdrawn.current += withdrawnApprovals;
      const now = editor.current?.read() ?? body;
      if (merged !== null) editor.current?.write(rebase(body, merged, now));
      stored.current = { version, title: mine.title, body: merged ?? body };
      forgetText(sessionId);
      if (dirty.current) later(PAUSE_MS);
      setState(dirty.current ? { kind: 'changed' } : savedAs(version, withdrawn.current));
      return version;
    }
    dirty.current = true;
    keepText(sessionId, { ...mine, atIso: new Date().toISOString() });
    const theirs =
      result.code === 'changed-meanwhile' ? await readDraft(sessionId).catch(() => null) : null;
    if (theirs === null) setState({ kind: 'refused', message: result.message });
    else if (conflictsOf(base.body, theirs.body, body).length === 0) {
      const together = rebase(base.body, theirs.body, body);
      editor.current?.write(together);
      stored.current = theirs;
      later(0);
    } else {
      conflict.current = { kind: 'conflict', base: base.body, mine, theirs };
      setState(conflict.current);
    }
    return null;
  }, [editor, later, sessionId, title]);

  const flush = useCallback(async (): Promise<number | null> => {
    clearTimeout(timer.current);
    if (running.current !== null) await running.current;
    running.current = saveOnce();
    const version = await running.current;
    running.current = null;
    return version;
  }, [saveOnce]);
  saveRef.current = flush;

  const touch = useCallback(() => {
    dirty.current = true;
    setState((now) => (now.kind === 'conflict' ? now : { kind: 'changed' }));
    later(PAUSE_MS);
  }, [later]);

  const adopt = useCallback(
    (draft: Draft, base: DocNode) => {
      stored.current = { ...draft, body: base };
      editor.current?.write(draft.body);
      conflict.current = null;
      dirty.current = true;
      setState({ kind: 'changed' });
      later(0);
    },
    [editor, later],
  );

  const choose = useCallback(
    (sides: Readonly<Record<string, Side>>) => {
      const open = conflict.current;
      const body = editor.current?.read();
      if (open === null || body === undefined) return;
      const { base, theirs } = open;
      if (conflictsOf(base, theirs.body, body).some(({ id }) => sides[id] === undefined)) {
        conflict.current = { ...open, mine: { ...open.mine, body } };
        setState(conflict.current);
        return;
      }
      const settled = settle(base, theirs.body, body, sides);
      adopt({ version: theirs.version, title: title.current, body: settled }, theirs.body);
    },
    [adopt, editor, title],
  );

  const look = useCallback(async (): Promise<boolean> => {
    if (dirty.current || running.current !== null) return true;
    const stamp = await readDraftStamp(sessionId).catch(() => null);
    if (stamp === null || stamp.version <= stored.current.version) return true;
    const theirs = await readDraft(sessionId).catch(() => null);
    if (theirs === null || dirty.current || running.current !== null) return true;
    setState({ kind: 'behind', shown: stored.current.body, theirs });
    return false;
  }, [sessionId]);

  const take = useCallback(
    (draft: Draft) => {
      stored.current = draft;
      title.current = draft.title;
      editor.current?.write(draft.body);
      dirty.current = false;
      setState(savedAs(draft.version, withdrawn.current));
    },
    [editor, title],
  );

  useLookNowAndThen(look);
  useEffect(() => {
    const online = () => dirty.current && later(0);
    const guard = (event: BeforeUnloadEvent) => {
      if (dirty.current) event.preventDefault();
    };
    window.addEventListener('online', online);
    window.addEventListener('beforeunload', guard);
    return () => {
      window.removeEventListener('online', online);
      window.removeEventListener('beforeunload', guard);
      if (dirty.current) void saveRef.current();
    };
  }, [later]);

  return { state, touch, flush, adopt, choose, look, take };
}
