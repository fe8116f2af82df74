'use client';

import { useState, useTransition } from 'react';
import type { CorrectionRow } from '@/lib/view/clock/correction-list';
import { undoAction } from '../actions';
import styles from './clock.module.css';

type UndoButtonProps = Readonly<{
  sessionId: string;
  correction: NonNullable<CorrectionRow['undo']>;
  what: string;
}>;

/** Takes a correction back; where somebody was quicker it says so. */
export function UndoButton({ sessionId, correction, what }: UndoButtonProps) {
  const [problem, setProblem] = useState<string | null>(null);
  const [isUndoing, startUndoing] = useTransition();
  return (
    <>
      <button
        className={`${styles.judge} no-print`}
        type="button"
        disabled={isUndoing}
        onClick={() =>
          startUndoing(async () => setProblem(await undoAction(sessionId, correction)))
        }
      >
        Undo<span className="visually-hidden"> {what}</span>
      </button>
      <span className="beyond" role="alert">
        {problem}
      </span>
    </>
  );
}
