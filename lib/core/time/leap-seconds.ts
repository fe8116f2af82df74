/**
 * The leap-second table and what follows from it.
 *
 * Source: IERS list of leap seconds as carried by the tz database, `leap-seconds.list`, 28 entries,
 * expiring 28 June 2027.
 */
import type { Issue } from '../result';
import { DAY_S, dateFromDay, dayFromDate, daysInMonth } from './calendar';
import type { Instant } from './instant';

/** `[year, month, TAI - UTC in seconds from the first of that month on]`. */
const TABLE = [
  [1972, 1, 10],
  [1972, 7, 11],
  [1973, 1, 12],
  [1974, 1, 13],
  [1975, 1, 14],
  [1976, 1, 15],
  [1977, 1, 16],
  [1978, 1, 17],
  [1979, 1, 18],
  [1980, 1, 19],
  [1981, 7, 20],
  [1982, 7, 21],
  [1983, 7, 22],
  [1985, 7, 23],
  [1988, 1, 24],
  [1990, 1, 25],
  [1991, 1, 26],
  [1992, 7, 27],
  [1993, 7, 28],
  [1994, 7, 29],
  [1996, 1, 30],
  [1997, 7, 31],
  [1999, 1, 32],
  [2006, 1, 33],
  [2009, 1, 34],
  [2012, 7, 35],
  [2015, 7, 36],
  [2017, 1, 37],
] as const;

/** From `day` on (day number, UTC), TAI - UTC is `taiMinusUtcS`. Ascending. */
export const LEAP_SECONDS = TABLE.map(([year, month, taiMinusUtcS]) => ({
  day: dayFromDate(year, month, 1),
  taiMinusUtcS,
}));

/** First day the table does not vouch for: 28 June 2027. */
export const TABLE_EXPIRES_DAY = dayFromDate(2027, 6, 28);
/** The first day that the table does not vouch for, in words. */
export const TABLE_EXPIRES_TEXT = '28 June 2027';

const FIRST_DAY = dayFromDate(1972, 1, 1);
const FIRST_OFFSET_S = 10;

/**
 * TAI - UTC on a UTC day.
 *
 * @param day UTC day number, 0 = 1970-01-01
 * @returns whole seconds; before 1972 the value of 1 January 1972 (UTC had another length of
 *   second then), after the table's end its last value: `leapSecondIssue` says so
 */
export function taiMinusUtcS(day: number): number {
  for (let index = LEAP_SECONDS.length - 1; index >= 0; index -= 1) {
    const entry = LEAP_SECONDS[index];
    if (entry !== undefined && day >= entry.day) return entry.taiMinusUtcS;
  }
  return FIRST_OFFSET_S;
}

/**
 * Whether 23:59:60 exists on a UTC day.
 *
 * Inside the table only where the table has it. Beyond its end nobody knows yet: the last day of a
 * month is allowed there, and is then the same instant as the midnight after it.
 */
export function mayHoldLeapSecond(day: number): boolean {
  if (day >= TABLE_EXPIRES_DAY) {
    const { year, month, dayOfMonth } = dateFromDay(day);
    return dayOfMonth === daysInMonth(year, month);
  }
  return day + 1 > FIRST_DAY && LEAP_SECONDS.some((entry) => entry.day === day + 1);
}

/** A UTC reading of an instant: `secondOfDay` runs to 86 400 in a leap second. */
export type UtcReading = Readonly<{ day: number; secondOfDay: number }>;

/**
 * UTC day and whole second of day of a count of TAI seconds.
 *
 * @param taiS whole seconds since 1970-01-01T00:00:00 TAI
 */
export function utcFromTaiSeconds(taiS: number): UtcReading {
  for (let index = LEAP_SECONDS.length - 1; index >= 0; index -= 1) {
    const entry = LEAP_SECONDS[index];
    if (entry === undefined) continue;
    const startTaiS = entry.day * DAY_S + entry.taiMinusUtcS;
    if (taiS >= startTaiS) return splitDay(taiS - entry.taiMinusUtcS);
    if (index > 0 && taiS === startTaiS - 1) return { day: entry.day - 1, secondOfDay: DAY_S };
  }
  return splitDay(taiS - FIRST_OFFSET_S);
}

function splitDay(seconds: number): UtcReading {
  const day = Math.floor(seconds / DAY_S);
  return { day, secondOfDay: seconds - day * DAY_S };
}

/**
 * What the table cannot vouch for about an instant.
 *
 * @returns a warning for a date outside the table, else null
 */
export function leapSecondIssue(instant: Instant): Issue | null {
  const { day } = utcFromTaiSeconds(Number(instant.taiNs / 1_000_000_000n));
  const { year, month, dayOfMonth } = dateFromDay(day);
  const date = `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(dayOfMonth).padStart(2, '0')}`;
  if (day >= TABLE_EXPIRES_DAY) {
    return {
      code: 'leap-second-table-expired',
      severity: 'warning',
      message: `${date} lies beyond the leap-second table, which ends on ${TABLE_EXPIRES_TEXT}; TAI - UTC is taken as 37 s, UTC may be off by whole seconds`,
      expected: `a date before ${TABLE_EXPIRES_TEXT}`,
      received: date,
    };
  }
  if (day < FIRST_DAY) {
    return {
      code: 'before-leap-second-table',
      severity: 'warning',
      message: `${date} lies before 1972, when UTC had no whole leap seconds; TAI - UTC is taken as 10 s`,
      expected: 'a date from 1972-01-01 on',
      received: date,
    };
  }
  return null;
}
