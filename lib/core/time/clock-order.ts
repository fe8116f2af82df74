/** Files whose stamps are times of day without a date, put one after the other over midnight. */

import { DAY_S } from './calendar';
import { LONGEST_PAUSE_S, LONGEST_STEP_BACK_S } from './carry-days';

/** First and last time of day of a file, s after 00:00:00; `lastS` is smaller where midnight lies inside. */
export type ClockStretch = Readonly<{ firstS: number; lastS: number }>;

/** Files one after the other: indexes into what was given, and before which of them midnight lies. */
export type ClockOrder = Readonly<{
  order: readonly number[];
  /** Positions in `order`. */
  afterMidnight: readonly number[];
  /** Whether the order is that in which the files were given. */
  from: 'given' | 'clock';
}>;

/** Seconds from the end of one file to the start of the next; midnight passed where that is near. */
function pauseS(before: ClockStretch, after: ClockStretch): number {
  const stepS = after.firstS - before.lastS;
  return stepS < LONGEST_PAUSE_S - DAY_S ? stepS + DAY_S : stepS;
}

function lengthS({ firstS, lastS }: ClockStretch): number {
  return lastS < firstS ? lastS - firstS + DAY_S : lastS - firstS;
}

/** True where the second begins soon enough after the first, or has few rows in common with it. */
function goesOn(before: ClockStretch, after: ClockStretch, mostS: number): boolean {
  const pause = pauseS(before, after);
  return pause <= mostS && -2 * pause <= Math.min(lengthS(before), lengthS(after));
}

/**
 * Finds the order of files that hold times of day.
 *
 * The order given stands where every file begins after the one before it ends, at most 18 h later
 * on the same day or 6 h later over midnight. Else the files are put round the clock by their
 * starts, and the day is cut open where that leaves no pause of over 6 h; a stated order is not
 * turned over midnight so.
 *
 * @param files in the order of their names, or as stated; rows of each in the order of time
 * @param given `stated` where a person wrote the order, `named` where it is that of the names
 * @returns null where no order fits, or more than one does
 *
 * Valid: files shorter than a day whose first and last row are in order; the limits are those of
 * `carryDays`, which then carries the rows.
 */
export function orderOverMidnight(
  files: readonly ClockStretch[],
  given: 'stated' | 'named',
): ClockOrder | null {
  const fits = (order: readonly number[], mostS: number): boolean =>
    order.every((index, at) => {
      const [before, after] = [files[order[at - 1] ?? -1], files[index]];
      return before === undefined || after === undefined || goesOn(before, after, mostS);
    });
  const passes = (order: readonly number[]): readonly number[] =>
    [...order.keys()].slice(1).filter((at) => {
      const [before, after] = [files[order[at - 1] ?? -1], files[order[at] ?? -1]];
      return (
        before !== undefined &&
        after !== undefined &&
        after.firstS < before.lastS &&
        pauseS(before, after) >= 0
      );
    });
  const asGiven = [...files.keys()];
  if (fits(asGiven, DAY_S - LONGEST_STEP_BACK_S)) {
    return { order: asGiven, afterMidnight: passes(asGiven), from: 'given' };
  }
  const round = [...files.keys()].sort((a, b) => (files[a]?.firstS ?? 0) - (files[b]?.firstS ?? 0));
  const [order, ...others] = round
    .map((_, start) => [...round.slice(start), ...round.slice(0, start)])
    .filter((turned) => fits(turned, LONGEST_PAUSE_S));
  if (order === undefined || others.length > 0) return null;
  const afterMidnight = passes(order);
  return given === 'stated' && afterMidnight.length > 0
    ? null
    : { order, afterMidnight, from: 'clock' };
}
