'use client';

import { useState, useTransition } from 'react';
import {
  type HistoryWay,
  NO_HISTORY,
  nextEdit,
  type RemarkEdit,
  remarkName,
  remember,
  restorationOf,
  stepped,
  withoutRemark,
} from '@/lib/view/timeline-history';
import { restoreRemark } from './restore-remark';

export type EditHistory = Readonly<{
  /** What the next step would touch, `finding 3`; null where there is none. */
  next: Readonly<Record<HistoryWay, string | null>>;
  /** Why the last step was not taken; empty otherwise. */
  problem: string;
  remember: (edit: RemarkEdit) => void;
  step: (way: HistoryWay) => void;
}>;

const WORDS = { undo: 'Undone', redo: 'Done again' } as const;

/** Undo and redo of what was written in this visit; what somebody else has changed since is left alone. */
export function useHistory(sessionId: string, say: (sentence: string) => void): EditHistory {
  const [history, setHistory] = useState(NO_HISTORY);
  const [problem, setProblem] = useState('');
  const [waits, start] = useTransition();
  const nameOf = (way: HistoryWay): string | null => {
    const edit = nextEdit(history, way);
    return edit === null ? null : remarkName(edit);
  };
  const step = (way: HistoryWay): void => {
    const what = restorationOf(history, way);
    if (what === null) say(way === 'undo' ? 'Nothing to undo.' : 'Nothing to do again.');
    if (what === null || waits) return;
    const name = nameOf(way);
    start(async () => {
      const result = await restoreRemark(sessionId, what);
      if (result.ok) {
        setHistory((before) => stepped(before, way, result.saved));
        setProblem('');
        say(`${WORDS[way]}: ${name}.`);
        return;
      }
      const id = what.existing?.id;
      if (result.isChangedMeanwhile && id !== undefined)
        setHistory((before) => withoutRemark(before, id));
      // An alert is read out by itself.
      setProblem(
        result.isChangedMeanwhile
          ? `Not ${WORDS[way].toLowerCase()}: somebody else has changed ${name} since. It stands as they left it.`
          : `Not ${WORDS[way].toLowerCase()}, ${name}: ${result.message}`,
      );
    });
  };
  return {
    next: { undo: nameOf('undo'), redo: nameOf('redo') },
    problem,
    remember: (edit) => {
      setHistory((before) => remember(before, edit));
      setProblem('');
    },
    step,
  };
}
