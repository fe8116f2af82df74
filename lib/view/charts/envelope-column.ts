/** The envelope of one column that suits a window best, among those at hand. */
import type { EnvelopeAnswer, EnvelopeColumn } from './envelope-wire';
import { type TimeWindow, windowSpanS } from './time-window';

export type FoundColumn = Readonly<{
  column: EnvelopeColumn;
  tS: Float64Array;
  pixelS: number;
  /** The window that the envelope was asked for. */
  of: TimeWindow;
}>;

/**
 * The finest envelope that covers the window; while a finer one is on its way, the one that covers
 * most of it.
 */
export function bestColumn(
  answers: readonly EnvelopeAnswer[],
  key: string,
  window: TimeWindow,
): FoundColumn | null {
  let best: FoundColumn | null = null;
  let bestScore = Number.NEGATIVE_INFINITY;
  for (const answer of answers) {
    const group = answer.groups.find((each) => each.columns.some((column) => column.key === key));
    const column = group?.columns.find((each) => each.key === key);
    if (group === undefined || column === undefined) continue;
    const covered = Math.min(answer.toS, window.toS) - Math.max(answer.fromS, window.fromS);
    // An instant has no span: what reaches it covers it.
    const spanS = windowSpanS(window);
    const share = spanS === 0 ? 1 : Math.max(0, covered) / spanS;
    const pixelS = (answer.toS - answer.fromS) / Math.max(1, answer.pixels);
    const score = share > 0.999 ? 1 + 1 / (1 + pixelS) : share;
    if (score <= bestScore) continue;
    bestScore = score;
    best = { column, tS: group.tS, pixelS, of: { fromS: answer.fromS, toS: answer.toS } };
  }
  return best;
}

/** Position of the first instant at or after one; the length where none is. */
export function firstAtOrAfter(tS: Float64Array, timeS: number): number {
  let low = 0;
  let high = tS.length;
  while (low < high) {
    const middleIndex = (low + high) >>> 1;
    if ((tS[middleIndex] ?? Number.POSITIVE_INFINITY) < timeS) low = middleIndex + 1;
    else high = middleIndex;
  }
  return low;
}

/** The middle of each pixel of a column in a window, SI; NaN where it has no sample. */
export function columnAlong(
  answers: readonly EnvelopeAnswer[],
  key: string,
  window: TimeWindow,
): Readonly<{ tS: readonly number[]; values: readonly number[] }> {
  const found = bestColumn(answers, key, window);
  if (found === null) return { tS: [], values: [] };
  const { minimum, maximum } = found.column;
  return {
    tS: Array.from(found.tS),
    values: Array.from(minimum, (low, index) => (low + (maximum[index] ?? Number.NaN)) / 2),
  };
}
