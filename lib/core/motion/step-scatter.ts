/** How much lines on either side of a row differ where there is no step. */
import { lowerBound } from '../math/search';
import { medianInPlace, SD_PER_MAD } from '../math/statistics';

/**
 * By how much lines over `spanS` on either side of each row differ, and the standard error that quick noise
 * gives it, m; NaN nearer to the ends than the span.
 */
export type Differences = Readonly<{ spanS: number; sizeM: Float64Array; sizeSdM: Float64Array }>;

/** No more than so many are sorted: of all places, and of those round one. */
const MOST_SORTED = 4000;
const MOST_SORTED_ROUND = 500;
/** Rows within so many spans tell how lines differ round a row: a step takes two of them. */
const AROUND_SPANS = 20;
/** Median of the square of a normal deviate. */
const MEDIAN_SQUARE = 1 / SD_PER_MAD ** 2;

/** The middle of a value over places from `from` up to `to`, those without one left out; 0 for none. */
function middleOf(
  valueAt: (index: number) => number,
  [from, to, most]: readonly [from: number, to: number, most: number],
): number {
  const stride = Math.max(1, Math.floor((to - from) / most));
  const values = new Float64Array(Math.ceil((to - from) / stride));
  let count = 0;
  for (let i = from; i < to; i += stride) {
    const value = valueAt(i);
    if (Number.isFinite(value)) values[count++] = value;
  }
  return count === 0 ? 0 : medianInPlace(values, count);
}

/**
 * What lines differ by, beyond quick noise, in the middle of the places round a row: variances, m2, of windows
 * that reach evenly over all places; `null` where all places fit into one.
 */
function slowRound(seen: Differences, tS: Float64Array): ((index: number) => number) | null {
  const { spanS, sizeM, sizeSdM } = seen;
  const firstS = (tS[0] ?? 0) + spanS;
  const wideS = AROUND_SPANS * spanS;
  const freeS = (tS[tS.length - 1] ?? 0) - spanS - firstS - wideS;
  if (!(freeS > 0)) return null;
  const excess = (i: number): number =>
    (sizeM[i] ?? Number.NaN) ** 2 - MEDIAN_SQUARE * (sizeSdM[i] ?? Number.NaN) ** 2;
  const steps = Math.ceil((2 * freeS) / wideS);
  const slowM2 = Float64Array.from({ length: steps + 1 }, (_, step) => {
    const fromS = firstS + (freeS * step) / steps;
    const rows = [lowerBound(tS, fromS), lowerBound(tS, fromS + wideS)] as const;
    return Math.max(0, middleOf(excess, [...rows, MOST_SORTED_ROUND]) / MEDIAN_SQUARE);
  });
  return (index) => {
    const step = Math.round((steps * ((tS[index] ?? 0) - wideS / 2 - firstS)) / freeS);
    return slowM2[Math.min(steps, Math.max(0, step))] ?? 0;
  };
}

/**
 * Standard deviation of what lines differ by without a step: that of quick noise, times what it takes to explain
 * the middle of all places (never under 1), or with what hangs together over the span, in the position or in its
 * velocity, as the places round a row show it, whichever is more. Quick noise falls towards the port, what
 * hangs together need not. A step moves differences for twice the span only: it does not hide behind itself.
 *
 * @param seen differences at each row
 * @param tS time of each row, s, ascending
 * @returns the standard deviation at a row, m, by its index
 */
export function scatterOf(seen: Differences, tS: Float64Array): (index: number) => number {
  const { sizeM, sizeSdM } = seen;
  const score = (i: number): number =>
    Math.abs(sizeM[i] ?? Number.NaN) / (sizeSdM[i] ?? Number.NaN);
  const raise = Math.max(1, SD_PER_MAD * middleOf(score, [0, tS.length, MOST_SORTED]));
  const slowM2 = slowRound(seen, tS);
  return (index) => {
    const quickM = sizeSdM[index] ?? Number.NaN;
    return Math.max(raise * quickM, Math.sqrt(quickM ** 2 + (slowM2?.(index) ?? 0)));
  };
}
