'use client';

import { useState, useTransition } from 'react';
import type { CorrectionRow } from '@/lib/view/clock/correction-list';
import { undoAction } from '../actions';
import styles from './corrections.module.css';

type UndoButtonProps = Readonly<{ sessionId: string; row: CorrectionRow }>;

/** Takes a correction back, or its undoing; where somebody was quicker it says so. */
export function UndoButton({ sessionId, row }: UndoButtonProps) {
  const [problem, setProblem] = useState<string | null>(null);
  const [isUndoing, startUndoing] = useTransition();
  const { undo: correction } = row;
  const to = row.undone === null ? 'undo' : 'put back';
  return (
    <>
      <button
        className={`${styles.undo} no-print`}
        type="button"
        disabled={isUndoing}
        onClick={() =>
          startUndoing(async () => setProblem(await undoAction(sessionId, { correction, to })))
        }
      >
        {to === 'undo' ? 'Undo' : 'Put back'}
        <span className="visually-hidden"> {row.what}</span>
      </button>
      <span className="beyond" role="alert">
        {problem}
      </span>
    </>
  );
}
