/** What is asked of the store for a picture, and which part of it is held already. */
import type { EnvelopeAnswer } from './envelope-wire';
import type { TimeWindow } from './time-window';

/** Columns that one question may name. */
export const MOST_KEYS = 64;

export type EnvelopeQuestion = Readonly<{
  window: TimeWindow;
  keys: readonly string[];
  pixels: number;
}>;

/** All that a picture needs: the whole session and the window shown, of the same columns. */
export type EnvelopeWish = Readonly<{
  session: TimeWindow;
  window: TimeWindow;
  keys: readonly string[];
  pixels: number;
}>;

/**
 * Pixels that are asked for before the width of the plots is known. A narrower plot is drawn from more than
 * it shows; a wider one asks again.
 */
export const FIRST_PIXELS = 1280;

/** Page and script write it alike, so that what the page's head asks for is what the script takes. */
export function envelopeAddress(sessionId: string, question: EnvelopeQuestion): string {
  const query = new URLSearchParams({
    from: `${question.window.fromS}`,
    to: `${question.window.toS}`,
    pixels: `${question.pixels}`,
  });
  for (const key of question.keys) query.append('c', key);
  return `/sessions/${encodeURIComponent(sessionId)}/timeline/envelope?${query}`;
}

export function isSameWindow(a: TimeWindow, b: TimeWindow): boolean {
  return a.fromS === b.fromS && a.toS === b.toS;
}

/** What is still to be asked, in questions the server takes: nothing that is held or on its way. */
export function openQuestions(
  { session, window, keys, pixels }: EnvelopeWish,
  held: readonly EnvelopeAnswer[],
  flying: readonly EnvelopeQuestion[],
): readonly EnvelopeQuestion[] {
  const windows = isSameWindow(session, window) ? [session] : [session, window];
  return windows
    .map((each) => ({
      window: each,
      pixels,
      keys: keys.filter(
        (key) =>
          !held.some((answer) => answers(answer, { window: each, key, pixels })) &&
          !flying.some(
            (question) =>
              isSameWindow(question.window, each) &&
              question.pixels >= pixels &&
              question.keys.includes(key),
          ),
      ),
    }))
    .flatMap((question) =>
      Array.from({ length: Math.ceil(question.keys.length / MOST_KEYS) }, (_, part) => ({
        ...question,
        keys: question.keys.slice(part * MOST_KEYS, (part + 1) * MOST_KEYS),
      })),
    );
}

function answers(
  answer: EnvelopeAnswer,
  asked: Readonly<{ window: TimeWindow; key: string; pixels: number }>,
): boolean {
  const { window, key, pixels } = asked;
  return (
    isSameWindow(answer, window) &&
    answer.pixels >= pixels &&
    (answer.missing.includes(key) ||
      answer.groups.some((group) => group.columns.some((column) => column.key === key)))
  );
}
