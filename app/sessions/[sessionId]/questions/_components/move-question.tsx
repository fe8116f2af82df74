'use client';

import { useState, useTransition } from 'react';
import { removeQuestionAction, restoreQuestionAction } from '../actions';
import type { QuestionPlace } from './answer-form';

type MoveQuestionProps = Readonly<{
  place: QuestionPlace;
  number: number;
  to: 'removed' | 'standing';
}>;

const ACTS = {
  removed: { words: 'Take it off the sheet', act: removeQuestionAction },
  standing: { words: 'Put it back', act: restoreQuestionAction },
};

/** Takes a question off the sheet, or puts it back. */
export function MoveQuestion({ place, number, to }: MoveQuestionProps) {
  const [problem, setProblem] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const { words, act } = ACTS[to];
  return (
    <span className="row">
      <button
        className="button"
        type="button"
        disabled={isBusy}
        onClick={() => start(async () => setProblem(await act(place)))}
      >
        {words}
        <span className="visually-hidden"> (question {number})</span>
      </button>
      <span className="beyond" role="alert">
        {problem}
      </span>
    </span>
  );
}
