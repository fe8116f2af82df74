'use client';

import { useState, useTransition } from 'react';
import { type RecordingAct, recordingAction } from '../actions';

type ActButtonProps = Readonly<{
  sessionId: string;
  act: RecordingAct;
  place: Readonly<{ id: string; version: number }>;
  words: string;
  /** What it is about, for whoever does not see where the button stands. */
  name: string;
}>;

/** One act on a recording or on a word about its clock; why it was refused stands beside it. */
export function ActButton({ sessionId, act, place, words, name }: ActButtonProps) {
  const [problem, setProblem] = useState<string | null>(null);
  const [isDoing, start] = useTransition();
  const carryOut = async (): Promise<void> => {
    const refused = await recordingAction(sessionId, act, place).catch(
      () => 'The server did not answer; nothing was changed.',
    );
    setProblem(refused);
  };
  return (
    <>
      <button className="button" type="button" disabled={isDoing} onClick={() => start(carryOut)}>
        {words}
        <span className="visually-hidden">: {name}</span>
      </button>
      {problem !== null && (
        <span className="beyond" role="alert">
          {problem}
        </span>
      )}
    </>
  );
}
