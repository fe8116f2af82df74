'use client';

import { useCallback, useEffect, useRef, useState } from 'react';
import { decodeEnvelope, type EnvelopeAnswer } from '@/lib/view/charts/envelope-wire';
import type { TimeWindow } from '@/lib/view/charts/time-window';

export type EnvelopeState = 'loading' | 'ready' | 'no-answer' | 'gone';

export type Envelopes = Readonly<{
  /** Whole session first, then finer windows; strips draw the best there is. */
  answers: readonly EnvelopeAnswer[];
  state: EnvelopeState;
  retry: () => void;
}>;

type Asked = Readonly<{
  sessionId: string;
  session: TimeWindow;
  window: TimeWindow;
  keys: readonly string[];
  /** Null until the width is known: nothing is asked before. */
  pixels: number | null;
}>;

/** While the window moves on and on, only where it comes to rest is asked for. */
const SETTLE_MS = 60;
const KEPT = 6;
const RETRY_MS = [1000, 2000, 4000, 8000];

/**
 * Envelopes for what is shown. A change of the window draws at once from what is there and asks for
 * its own, after a moment where it is still moving; a newer question calls off the one before.
 */
export function useEnvelopes({ sessionId, session, window, keys, pixels }: Asked): Envelopes {
  const [answers, setAnswers] = useState<readonly EnvelopeAnswer[]>([]);
  const [state, setState] = useState<EnvelopeState>('loading');
  const [round, setRound] = useState(0);
  const failures = useRef(0);
  const changedMs = useRef(Number.NEGATIVE_INFINITY);
  const held = useRef<readonly EnvelopeAnswer[]>([]);
  const list = keys.join('\n');

  // biome-ignore lint/correctness/useExhaustiveDependencies: `round` asks again after a failure
  useEffect(() => {
    if (pixels === null) return;
    const wanted = list === '' ? [] : list.split('\n');
    const questions = [session, window]
      .filter(
        (each, index, all) =>
          index === 0 || each.fromS !== all[0]?.fromS || each.toS !== all[0]?.toS,
      )
      .map((each) => ({
        window: each,
        keys: wanted.filter((key) => !holds(held.current, each, key, pixels)),
      }))
      .filter((each) => each.keys.length > 0);
    if (questions.length === 0) {
      setState('ready');
      return;
    }
    const abort = new AbortController();
    let again: ReturnType<typeof setTimeout> | undefined;
    const ask = async (): Promise<void> => {
      setState('loading');
      const results = await Promise.allSettled(
        questions.map(async (question) => {
          const answer = await fetchEnvelope(sessionId, { ...question, pixels }, abort.signal);
          held.current = keep([...held.current, answer], session);
          setAnswers(held.current);
        }),
      );
      if (abort.signal.aborted) return;
      const failed = results.find((each) => each.status === 'rejected');
      if (failed === undefined) {
        failures.current = 0;
        setState('ready');
        return;
      }
      if (failed.reason instanceof GoneError) {
        setState('gone');
        return;
      }
      setState('no-answer');
      const delay = RETRY_MS[Math.min(failures.current, RETRY_MS.length - 1)] ?? 8000;
      failures.current += 1;
      again = setTimeout(() => setRound((before) => before + 1), delay);
    };
    const nowMs = performance.now();
    const isMoving = nowMs - changedMs.current < SETTLE_MS;
    changedMs.current = nowMs;
    const start = setTimeout(() => void ask(), isMoving ? SETTLE_MS : 0);
    return () => {
      clearTimeout(start);
      clearTimeout(again);
      abort.abort();
    };
  }, [sessionId, session, window, list, pixels, round]);

  const retry = useCallback(() => setRound((before) => before + 1), []);
  return { answers, state, retry };
}

class GoneError extends Error {}

async function fetchEnvelope(
  sessionId: string,
  question: Readonly<{ window: TimeWindow; keys: readonly string[]; pixels: number }>,
  signal: AbortSignal,
): Promise<EnvelopeAnswer> {
  const query = new URLSearchParams({
    from: `${question.window.fromS}`,
    to: `${question.window.toS}`,
    pixels: `${question.pixels}`,
  });
  for (const key of question.keys) query.append('c', key);
  const response = await fetch(
    `/sessions/${encodeURIComponent(sessionId)}/timeline/envelope?${query}`,
    { signal },
  );
  if (response.status === 404) throw new GoneError();
  if (!response.ok) throw new Error(`envelope: ${response.status}`);
  const answer = decodeEnvelope(await response.arrayBuffer());
  if (answer === null) throw new Error('envelope: not an envelope');
  return answer;
}

function holds(
  answers: readonly EnvelopeAnswer[],
  window: TimeWindow,
  key: string,
  pixels: number,
): boolean {
  return answers.some(
    (answer) =>
      answer.fromS === window.fromS &&
      answer.toS === window.toS &&
      answer.pixels >= pixels &&
      (answer.missing.includes(key) ||
        answer.groups.some((group) => group.columns.some((column) => column.key === key))),
  );
}

/** All of the whole session, and the latest few windows. */
function keep(answers: readonly EnvelopeAnswer[], session: TimeWindow): readonly EnvelopeAnswer[] {
  const isWhole = (answer: EnvelopeAnswer): boolean =>
    answer.fromS === session.fromS && answer.toS === session.toS;
  return [
    ...answers.filter(isWhole).slice(-KEPT * 2),
    ...answers.filter((answer) => !isWhole(answer)).slice(-KEPT),
  ];
}
