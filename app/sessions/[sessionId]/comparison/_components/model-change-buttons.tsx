'use client';

import { useState, useTransition } from 'react';
import type { ModelChangeRowView } from '@/lib/view/model-change-view';
import { removeModelChangeAction, undoModelChangeAction } from '../actions';

type ModelChangeButtonsProps = Readonly<{ sessionId: string; change: ModelChangeRowView }>;

/** Takes a change off the table, or takes its last change back. */
export function ModelChangeButtons({ sessionId, change }: ModelChangeButtonsProps) {
  const [problem, setProblem] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const { id, version, number, isRemoved, canUndo } = change;
  const act = (action: typeof removeModelChangeAction) =>
    start(async () => setProblem(await action(sessionId, { id, version })));
  const named = <span className="visually-hidden"> change {number}</span>;
  return (
    <span className="row no-print">
      {!isRemoved && (
        <button
          className="button"
          type="button"
          disabled={isBusy}
          onClick={() => act(removeModelChangeAction)}
        >
          Remove{named}
        </button>
      )}
      {canUndo && (
        <button
          className="button"
          type="button"
          disabled={isBusy}
          onClick={() => act(undoModelChangeAction)}
        >
          Undo{named}
        </button>
      )}
      <span className="beyond" role="alert">
        {problem}
      </span>
    </span>
  );
}
