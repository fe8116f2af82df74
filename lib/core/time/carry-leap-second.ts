/** Leap seconds where a clock or a count has no stamp of its own for them. */

import { DAY_S } from './calendar';
import type { DayTurn } from './carry-days';
import { type Instant, NS_PER_S, secondsBetween } from './instant';
import { leapAtEndOf, taiMinusUtcS, utcFromTaiSeconds } from './leap-seconds';
import { leapTable } from './leap-table';

/**
 * Leap seconds in the days that follow a midnight of UTC.
 *
 * @param from where a clock counts from
 * @returns of a number of days, the seconds that they are longer than 86,400 s each; 0 throughout
 *   where `from` is no midnight of UTC, so that the clock is not one of UTC
 */
export function leapSecondsAfter(from: Instant): (days: number) => number {
  const wholeS = from.taiNs / BigInt(NS_PER_S);
  const { day, secondOfDay } = utcFromTaiSeconds(Number(wholeS));
  const isMidnight = secondOfDay === 0 && from.taiNs === wholeS * BigInt(NS_PER_S);
  return (days) => (isMidnight ? taiMinusUtcS(day + days) - taiMinusUtcS(day) : 0);
}

/** Starts of the leap seconds of the table, s from zero. */
function leapStartsS(zero: Instant): readonly number[] {
  const added = leapTable().entries.filter(({ day }) => leapAtEndOf(day - 1) === 1);
  return added.map(({ day }) => {
    const wholeS = day * DAY_S + taiMinusUtcS(day - 1);
    return secondsBetween(zero, { taiNs: BigInt(wholeS) * BigInt(NS_PER_S) });
  });
}

export type CarriedLeap = Readonly<{ tS: Float64Array; turns: readonly DayTurn[] }>;

/** Several channels may write the same stamp one after the other; a wide table has one row a stamp. */
export type StampRows = 'one a stamp' | 'several a stamp';

/** A step back smaller than this is a row out of order: counts of two a second fall by half. Our own choice. */
const LEAST_FALL_S = 0.4;
/** Rows of one a second, within what clocks jitter. Our own choice. */
const JITTER_S = 0.1;

const isAbout = (stepS: number, wantedS: number): boolean => Math.abs(stepS - wantedS) <= JITTER_S;

/** The leap second that a row steps back beside; undefined where it does not. */
function leapStartAt(tS: Float64Array, row: number, startsS: readonly number[]) {
  const [beforeS, afterS] = [tS[row - 1] ?? NaN, tS[row] ?? NaN];
  const fallS = beforeS - afterS;
  if (!(fallS >= 0) || fallS > 1) return undefined;
  const startS = startsS.find((at) => afterS >= at - 1 && beforeS < at + 2);
  if (startS === undefined || fallS >= LEAST_FALL_S) return startS;
  // One row a second: the same count twice, with the leap second that it lacks on the one side of it.
  if (fallS > 0) return undefined;
  const [leadS, followS] = [beforeS - (tS[row - 2] ?? NaN), (tS[row + 1] ?? NaN) - afterS];
  const isSecondAfter = afterS >= startS + 1 && isAbout(leadS, 2) && isAbout(followS, 1);
  const isSecondBefore = afterS < startS && isAbout(leadS, 1) && isAbout(followS, 2);
  return isSecondAfter || isSecondBefore ? startS : undefined;
}

/**
 * Gives the rows of a leap second their place in a count of seconds since 1970, which has none for
 * it: the count of the second after it, or of the one before, comes twice.
 *
 * @param tS stamps in the order of the file, s from zero; NaN where there is none
 * @param zero the instant that they count from
 * @param rows where several rows share a stamp, one that comes twice says nothing
 * @returns null where no stamps step back by about a second beside a leap second of the table, or
 *   repeat one there with one row a second; a smaller step back is a row out of order
 *
 * Source: POSIX (IEEE Std 1003.1-2017, 4.16): second 60 has the count of the second after it. That
 * clocks repeat the second before instead is common practice, no source.
 */
export function carryLeapSecond(
  tS: Float64Array,
  zero: Instant,
  rows: StampRows = 'one a stamp',
): CarriedLeap | null {
  const startsS = leapStartsS(zero);
  const carried = tS.slice();
  const turns: DayTurn[] = [];
  for (let row = 1; row < tS.length; row += 1) {
    const [beforeS, afterS] = [tS[row - 1] ?? NaN, tS[row] ?? NaN];
    if (!(afterS < beforeS || (afterS === beforeS && rows === 'one a stamp'))) continue;
    const startS = leapStartAt(tS, row, startsS);
    if (startS === undefined) continue;
    // 23:59:59 ... 00:00:00.8, 00:00:00.0: the rows before the step are of second 60.
    if (afterS >= startS + 1) {
      for (let at = row - 1; at >= 0 && (tS[at] ?? NaN) >= startS + 1; at -= 1)
        carried[at] = (tS[at] ?? NaN) - 1;
      // 23:59:59.8, 23:59:59.0 ... 00:00:00: those after it are.
    } else if (beforeS < startS) {
      for (let at = row; at < tS.length && (tS[at] ?? NaN) < startS; at += 1)
        carried[at] = (tS[at] ?? NaN) + 1;
    } else continue;
    turns.push({ row, beforeS, afterS });
  }
  return turns.length === 0 ? null : { tS: carried, turns };
}
