'use client';

import { useCallback, useEffect, useRef, useState } from 'react';
import {
  changedTo,
  type DraftHistory,
  doneAgain,
  startHistory,
  undone,
} from '@/lib/view/plans/draft-history';
import { type DraftEdit, editedText } from '@/lib/view/plans/edit-draft';
import { forgetDraft, type KeptDraft, keepDraft, keptDraft } from './kept-draft';

export type DraftStart = Readonly<{
  /** Under which the draft is kept in this browser. */
  key: string;
  baseNumber: number;
  text: string;
}>;

export type Draft = Readonly<{
  history: DraftHistory;
  /** Number of the version that it goes on from. */
  baseNumber: number;
  /** The draft of an earlier visit, if it is what is shown. */
  restored: KeptDraft | null;
  isKept: boolean;
  /** A form's edit that could not be carried out on this text. */
  fault: string | null;
  write: (text: string, group: string | null) => void;
  edit: (edit: DraftEdit, group?: string) => void;
  undo: () => void;
  redo: () => void;
  /** Starts again from the version. */
  drop: () => void;
  /** The draft goes on from a newer version than the one it was begun from. */
  rebase: (number: number) => void;
  forget: () => void;
}>;

const KEEP_AFTER_MS = 250;
const NOT_BY_FORM = 'The form cannot change this place of the text; change it in the YAML.';

/** The text of a draft, with undo, kept in this browser until it is saved. */
export function useDraft({ key, baseNumber: firstBase, text }: DraftStart): Draft {
  const [history, setHistory] = useState(() => startHistory(text));
  const [baseNumber, setBase] = useState(firstBase);
  const [restored, setRestored] = useState<KeptDraft | null>(null);
  const [isKept, setKept] = useState(true);
  const [fault, setFault] = useState<string | null>(null);
  const latest = useRef({ text, baseNumber, isDone: false });
  const isLooked = useRef(false);

  const keep = useCallback((): void => {
    const { text: now, baseNumber: number, isDone } = latest.current;
    if (isDone || !isLooked.current) return;
    if (now === text) forgetDraft(key);
    else
      setKept(keepDraft(key, { text: now, baseNumber: number, atIso: new Date().toISOString() }));
  }, [key, text]);

  useEffect(() => {
    const kept = keptDraft(key);
    isLooked.current = true;
    if (kept === null || kept.text === text) return;
    setRestored(kept);
    setBase(kept.baseNumber);
    setHistory((before) => changedTo(before, kept.text));
  }, [key, text]);

  useEffect(() => {
    latest.current = { ...latest.current, text: history.text, baseNumber };
    const timer = window.setTimeout(keep, KEEP_AFTER_MS);
    return () => window.clearTimeout(timer);
  }, [history.text, baseNumber, keep]);

  useEffect(() => {
    window.addEventListener('pagehide', keep);
    return () => {
      window.removeEventListener('pagehide', keep);
      keep();
    };
  }, [keep]);

  return {
    history,
    baseNumber,
    restored,
    isKept,
    fault,
    write: (next, group) => {
      setFault(null);
      setHistory((before) => changedTo(before, next, group));
    },
    edit: (edit, group) => {
      const next = editedText(latest.current.text, edit);
      setFault(next === null ? NOT_BY_FORM : null);
      if (next === null) return;
      latest.current = { ...latest.current, text: next };
      setHistory((before) => changedTo(before, next, group ?? null));
    },
    undo: () => setHistory(undone),
    redo: () => setHistory(doneAgain),
    drop: () => {
      setRestored(null);
      setBase(firstBase);
      setHistory((before) => changedTo(before, text));
    },
    rebase: setBase,
    forget: () => {
      latest.current = { ...latest.current, isDone: true };
      forgetDraft(key);
    },
  };
}
