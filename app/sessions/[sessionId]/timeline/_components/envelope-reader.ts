import {
  type EnvelopeQuestion,
  type EnvelopeWish,
  isSameWindow,
  openQuestions,
} from '@/lib/view/charts/envelope-question';
import type { EnvelopeAnswer } from '@/lib/view/charts/envelope-wire';
import type { TimeWindow } from '@/lib/view/charts/time-window';

/** `asking` until everything that is wished for was answered once; `gone` where there is nothing to ask. */
export type EnvelopeState = 'asking' | 'ready' | 'no-answer' | 'gone';

export type EnvelopesRead = Readonly<{
  /** Whole session first, then finer windows; strips draw the best there is. */
  answers: readonly EnvelopeAnswer[];
  state: EnvelopeState;
}>;

export type EnvelopeReader = Readonly<{
  want: (wish: EnvelopeWish) => void;
  /** Asks at once for what was not answered. */
  retry: () => void;
  /** Calls off what is on its way. */
  close: () => void;
}>;

/** The session is no longer kept, or it has no samples: asking again is no use. */
export class GoneError extends Error {}

type Ask = (question: EnvelopeQuestion, signal: AbortSignal) => Promise<EnvelopeAnswer>;
type Flight = Readonly<{ question: EnvelopeQuestion; abort: AbortController }>;

/** A question about a window that was left may take so long before it is called off for the next. */
const PATIENCE_MS = 60;
const KEPT = 6;
const RETRY_MS = [1000, 2000, 4000, 8000];
const SLOWEST_RETRY_MS = 8000;

/**
 * Reads envelopes for what is shown.
 *
 * A window is asked for at once. While it moves on and on, one question is on its way at a time and the
 * newest window is the next: as soon as the one before is answered, or after a moment of rest.
 */
export function makeEnvelopeReader(
  ask: Ask,
  changed: (read: EnvelopesRead) => void,
): EnvelopeReader {
  let wish: EnvelopeWish | null = null;
  let held: readonly EnvelopeAnswer[] = [];
  let state: EnvelopeState = 'asking';
  let failures = 0;
  let flights: readonly Flight[] = [];
  let patience: ReturnType<typeof setTimeout> | undefined;
  let again: ReturnType<typeof setTimeout> | undefined;

  const isWanted = ({ question }: Flight): boolean =>
    wish !== null &&
    (isSameWindow(question.window, wish.session) || isSameWindow(question.window, wish.window));
  const open = (): readonly EnvelopeQuestion[] =>
    wish === null
      ? []
      : openQuestions(
          wish,
          held,
          flights.map((flight) => flight.question),
        );
  const tell = (next: EnvelopeState): void => {
    state = next;
    changed({ answers: held, state });
  };
  const send = (): void => {
    clearTimeout(patience);
    for (const flight of flights) if (!isWanted(flight)) flight.abort.abort();
    flights = flights.filter(isWanted);
    for (const question of open()) void fly(question);
  };
  const plan = (): void => {
    clearTimeout(patience);
    if (open().length === 0) {
      if (flights.length === 0 && state === 'asking') tell('ready');
      return;
    }
    if (flights.every(isWanted)) send();
    else patience = setTimeout(send, PATIENCE_MS);
  };
  const land = (answer: EnvelopeAnswer): void => {
    if (wish === null) return;
    failures = 0;
    clearTimeout(again);
    held = keep([...held, answer], wish.session);
    const isAll = open().length === 0 && flights.every((flight) => !isWanted(flight));
    tell(isAll ? 'ready' : state === 'no-answer' ? 'asking' : state);
    plan();
  };
  const fail = (reason: unknown): void => {
    if (reason instanceof GoneError) {
      tell('gone');
      return;
    }
    tell('no-answer');
    const delay = RETRY_MS[failures] ?? SLOWEST_RETRY_MS;
    failures += 1;
    clearTimeout(again);
    again = setTimeout(send, delay);
  };
  const fly = async (question: EnvelopeQuestion): Promise<void> => {
    const flight: Flight = { question, abort: new AbortController() };
    flights = [...flights, flight];
    const result = await ask(question, flight.abort.signal).then(
      (answer) => ({ answer }),
      (reason: unknown) => ({ reason }),
    );
    flights = flights.filter((each) => each !== flight);
    if (flight.abort.signal.aborted) return;
    if ('answer' in result) land(result.answer);
    else fail(result.reason);
  };

  return {
    want: (next) => {
      wish = next;
      // What does not answer is asked again after a while, whatever moves meanwhile.
      if (state !== 'no-answer') plan();
    },
    retry: send,
    close: () => {
      clearTimeout(patience);
      clearTimeout(again);
      wish = null;
      for (const flight of flights) flight.abort.abort();
      flights = [];
    },
  };
}

/** All of the whole session, and the latest few windows. */
function keep(answers: readonly EnvelopeAnswer[], session: TimeWindow): readonly EnvelopeAnswer[] {
  const isWhole = (answer: EnvelopeAnswer): boolean => isSameWindow(answer, session);
  return [
    ...answers.filter(isWhole).slice(-KEPT * 2),
    ...answers.filter((answer) => !isWhole(answer)).slice(-KEPT),
  ];
}
