/** Times of day without a date, carried on over midnight. */
import { DAY_S } from './calendar';

/** A step this far back is midnight passed; one under the other is a row out of order. Our own choice. */
export const LONGEST_PAUSE_S = DAY_S / 4;
export const LONGEST_STEP_BACK_S = DAY_S / 4;
/** A stamp mistyped stands alone among others that go on: so many rows to each side are looked at. */
const ROWS_BESIDE = 3;

/** The row (0-based) of which the day is another than of the row above it, and both times of day, s. */
export type DayTurn = Readonly<{ row: number; beforeS: number; afterS: number }>;

/** Days known to pass between two times of day that follow each other, s: between two files. */
export type KnownTurn = Readonly<{ beforeS: number; afterS: number; days: number }>;

export type CarriedDays =
  /** `tS` goes on over midnight at each of the turns. */
  | Readonly<{ kind: 'carried'; tS: Float64Array; turns: readonly DayTurn[] }>
  /** A step back that may be midnight after a long pause, or rows out of order. */
  | Readonly<{ kind: 'open'; turn: DayTurn }>;

export type DayKnowledge = Readonly<{
  known?: readonly KnownTurn[];
  leapAfter?: (days: number) => number;
}>;
/** A file of times of day may run this far into a day with a leap second. */
export const LEAP_DAYS_AHEAD = 3;

/** True for stamps that write the day beside the time of day: `1:00:00:05`. */
export function writesDays(stamp: string): boolean {
  return /^\s*[+\-\u2212]?\d+[:/]\d+:\d+:\d/.test(stamp);
}

/** Rows with a stamp, as long as all of them lie inside one day; null otherwise. */
function rowsOfOneDay(
  tS: Float64Array,
  day: Readonly<{ fromS: number; longestS: number; known: readonly KnownTurn[] }>,
): readonly number[] | null {
  const { fromS, longestS, known } = day;
  const rows: number[] = [];
  let stepsFar = known.length > 0;
  let before = Number.NaN;
  for (let row = 0; row < tS.length; row += 1) {
    const stampS = tS[row] ?? Number.NaN;
    if (Number.isNaN(stampS)) continue;
    if (stampS < fromS || stampS >= fromS + longestS) return null;
    stepsFar ||= Math.abs(stampS - before) > LONGEST_STEP_BACK_S;
    before = stampS;
    rows.push(row);
  }
  return stepsFar ? rows : null;
}

/** True where one of some rows beside a step lies close to a stamp: then a row between strayed. */
function isCloseTo(tS: Float64Array, rows: readonly number[], stampS: number): boolean {
  return rows.some((row) => Math.abs((tS[row] ?? Number.NaN) - stampS) <= LONGEST_STEP_BACK_S);
}

/** How many days a step turns; null where it may be the one or the other. */
function daysOfStep(tS: Float64Array, rows: readonly number[], at: number): number | null {
  const [beforeS, afterS] = [tS[rows[at - 1] ?? -1] ?? 0, tS[rows[at] ?? -1] ?? 0];
  const stepS = afterS - beforeS;
  if (stepS < LONGEST_PAUSE_S - DAY_S) return 1;
  if (stepS > DAY_S - LONGEST_STEP_BACK_S) return -1;
  if (stepS >= -LONGEST_STEP_BACK_S) return 0;
  const earlier = rows.slice(Math.max(0, at - 1 - ROWS_BESIDE), at - 1);
  const later = rows.slice(at + 1, at + 1 + ROWS_BESIDE);
  return isCloseTo(tS, earlier, afterS) || isCloseTo(tS, later, beforeS) ? 0 : null;
}

/** The double nearest to a stamp of whole nanoseconds, which a sum of two may miss by its last bits. */
export function toWholeNanosecond(stampS: number): number {
  const ns = Math.round(stampS * 1e9);
  return Number.isSafeInteger(ns) ? ns / 1e9 : stampS;
}

/**
 * Carries times of day on over midnight. A step back of more than 18 h is midnight, one of at most
 * 6 h is a row out of order; what lies between is left open, unless the rows beside it show that a
 * single stamp strayed. A step forward of more than 18 h goes back over the midnight before.
 *
 * @param tS stamps in the order of the file, s; NaN where there is none
 * @param fromS the stamp of 00:00:00, s
 * @param known steps of which the days are known, whatever their size; `leapAfter` tells by how many
 *   seconds so many days are longer than 86,400 s each
 * @returns null where nothing is to carry: a stamp beyond one day, or no midnight between the first
 *   row and the last
 *
 * Valid: rows in the order of time but for single ones. The first row's day is that of `fromS`; of a
 * file that runs backwards it is the last row's.
 */
export function carryDays(
  tS: Float64Array,
  fromS: number,
  { known = [], leapAfter = () => 0 }: DayKnowledge = {},
): CarriedDays | null {
  const longestS = DAY_S + leapAfter(LEAP_DAYS_AHEAD);
  const rows = rowsOfOneDay(tS, { fromS, longestS, known });
  if (rows === null) return null;
  const days = new Int32Array(rows.length);
  const turns: DayTurn[] = [];
  for (let at = 1; at < rows.length; at += 1) {
    const row = rows[at] ?? 0;
    const turn = {
      row,
      beforeS: (tS[rows[at - 1] ?? 0] ?? NaN) - fromS,
      afterS: (tS[row] ?? NaN) - fromS,
    };
    const told = known.find(
      ({ beforeS, afterS }) => beforeS === turn.beforeS && afterS === turn.afterS,
    );
    const turned = told?.days ?? daysOfStep(tS, rows, at);
    if (turned === null) return { kind: 'open', turn };
    days[at] = (days[at - 1] ?? 0) + turned;
    if (turned !== 0) turns.push(turn);
  }
  const lastDay = days.at(-1) ?? 0;
  if (lastDay === 0) return null;
  const carried = tS.slice();
  for (const [at, row] of rows.entries()) {
    const passed = (days[at] ?? 0) + Math.max(0, -lastDay);
    carried[row] = toWholeNanosecond((tS[row] ?? NaN) + passed * DAY_S + leapAfter(passed));
  }
  return { kind: 'carried', tS: carried, turns };
}
