/** Files whose stamps are times of day without a date, put one after the other over midnight. */

import { DAY_S } from './calendar';
import { LONGEST_PAUSE_S, LONGEST_STEP_BACK_S } from './carry-days';

/** First and last time of day of a file, s after 00:00:00; `lastS` is smaller where midnight lies inside. */
export type ClockStretch = Readonly<{ firstS: number; lastS: number }>;

/** Files one after the other: indexes into what was given, and where another day begins between them. */
export type ClockOrder = Readonly<{
  order: readonly number[];
  /** Positions in `order` before which midnight lies, and how many of them. */
  nights: readonly Readonly<{ at: number; days: number }>[];
  /** Whether the order is that in which the files were given, that of dates in their names, or neither. */
  from: 'given' | 'dates' | 'clock';
}>;

/** Seconds from the end of one file to the start of the next; midnight passed where that is near. */
function pauseS(before: ClockStretch, after: ClockStretch): number {
  const stepS = after.firstS - before.lastS;
  return stepS < LONGEST_PAUSE_S - DAY_S ? stepS + DAY_S : stepS;
}

/** The same where a person says that the second follows: any long step back is a night. */
function statedPauseS(before: ClockStretch, after: ClockStretch): number {
  const stepS = after.firstS - before.lastS;
  return stepS < -LONGEST_STEP_BACK_S ? stepS + DAY_S : stepS;
}

function lengthS({ firstS, lastS }: ClockStretch): number {
  return lastS < firstS ? lastS - firstS + DAY_S : lastS - firstS;
}

/** True where the second begins soon enough after the first, or has few rows in common with it. */
function isPause(pause: number, before: ClockStretch, after: ClockStretch, mostS: number): boolean {
  return pause <= mostS && -2 * pause <= Math.min(lengthS(before), lengthS(after));
}

type Pair = Readonly<{ at: number; before: ClockStretch; after: ClockStretch }>;

/** Neighbours in an order. */
function pairsOf(files: readonly ClockStretch[], order: readonly number[]): readonly Pair[] {
  return order.slice(1).flatMap((index, position) => {
    const [before, after] = [files[order[position] ?? -1], files[index]];
    return before === undefined || after === undefined ? [] : [{ at: position + 1, before, after }];
  });
}

type PauseOf = (before: ClockStretch, after: ClockStretch) => number;

function nightsOf(pairs: readonly Pair[], pauseOf: PauseOf): ClockOrder['nights'] {
  return pairs
    .filter(({ before, after }) => after.firstS < before.lastS && pauseOf(before, after) >= 0)
    .map(({ at }) => ({ at, days: 1 }));
}

/** The order of dates in the names, where the times of day go on in it. */
function orderByDates(files: readonly ClockStretch[], dates: readonly number[]): ClockOrder | null {
  const order = [...files.keys()].sort((a, b) => {
    const days = (dates[a] ?? 0) - (dates[b] ?? 0);
    return days === 0 ? (files[a]?.firstS ?? 0) - (files[b]?.firstS ?? 0) : days;
  });
  const nights = pairsOf(files, order).map(({ at, before, after }) => {
    const passed = before.lastS < before.firstS ? 1 : 0;
    const days = (dates[order[at] ?? 0] ?? 0) - (dates[order[at - 1] ?? 0] ?? 0) - passed;
    const pause = days * DAY_S + after.firstS - before.lastS;
    // A clock that goes on while the date changes may count from elsewhere: then the dates say nothing.
    const goesOn = days > 0 && after.firstS >= before.lastS && passed === 0;
    const fits = !goesOn && isPause(pause, before, after, Number.POSITIVE_INFINITY);
    return { at, days, fits };
  });
  if (nights.some(({ fits }) => !fits)) return null;
  const passed = nights.filter(({ days }) => days !== 0).map(({ at, days }) => ({ at, days }));
  return { order, nights: passed, from: 'dates' };
}

/**
 * Finds the order of files that hold times of day.
 *
 * Dates in all their names tell it, where they differ, the times go on in their order and fall back
 * where the date changes: those of a clock that goes on may count from elsewhere. Else the order given stands where every file begins after the one before it ends, at most 18 h later on the
 * same day or 6 h later over midnight. Else the files are put round the clock by their starts, and
 * the day is cut open where that leaves no pause of over 6 h; a stated order is not turned over
 * midnight so. Where that does not fit either, a stated order may pause over midnight up to 18 h.
 *
 * @param files in the order of their names, or as stated; rows of each in the order of time
 * @param given `stated` where a person wrote the order, `named` where it is that of the names
 * @param dates days in their names; null where some name has none
 * @returns null where no order fits, or more than one does: a stated one that pauses over the night
 *   and the order of the clock on one day
 *
 * Valid: files shorter than a day whose first and last row are in order.
 */
export function orderOverMidnight(
  files: readonly ClockStretch[],
  given: 'stated' | 'named',
  dates: readonly number[] | null = null,
): ClockOrder | null {
  const dated = dates === null || new Set(dates).size < 2 ? null : orderByDates(files, dates);
  if (dated !== null) return dated;
  const fits = (order: readonly number[], mostS: number, pauseOf: PauseOf = pauseS): boolean =>
    pairsOf(files, order).every(({ before, after }) =>
      isPause(pauseOf(before, after), before, after, mostS),
    );
  const asGiven = [...files.keys()];
  const inOrder = pairsOf(files, asGiven);
  const longestS = DAY_S - LONGEST_STEP_BACK_S;
  if (fits(asGiven, longestS)) {
    return { order: asGiven, nights: nightsOf(inOrder, pauseS), from: 'given' };
  }
  const round = [...files.keys()].sort((a, b) => (files[a]?.firstS ?? 0) - (files[b]?.firstS ?? 0));
  const [order, ...others] = round
    .map((_, start) => [...round.slice(start), ...round.slice(0, start)])
    .filter((turned) => fits(turned, LONGEST_PAUSE_S));
  const isNight = given === 'stated' && fits(asGiven, longestS, statedPauseS);
  if (order === undefined) {
    return isNight
      ? { order: asGiven, nights: nightsOf(inOrder, statedPauseS), from: 'given' }
      : null;
  }
  if (others.length > 0 || isNight) return null;
  const nights = nightsOf(pairsOf(files, order), pauseS);
  return given === 'stated' && nights.length > 0 ? null : { order, nights, from: 'clock' };
}
