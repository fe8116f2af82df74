/** What follows from the leap-second table: TAI - UTC on a day, where a second 60 exists. */
import type { Issue } from '../result';
import { DAY_S, dateFromDay, dayFromDate, daysInMonth } from './calendar';
import type { Instant } from './instant';
import { dayWords, leapTable } from './leap-table';

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
  const { entries } = leapTable();
  for (let index = entries.length - 1; index >= 0; index -= 1) {
    const entry = entries[index];
    if (entry !== undefined && day >= entry.day) return entry.taiMinusUtcS;
  }
  return FIRST_OFFSET_S;
}

/**
 * By how many seconds a UTC day is longer than 86,400 s, by the table: 1 where it ends in a leap second, -1 where
 * one is left out.
 *
 * Source: ITU-R TF.460-6: a negative leap second takes 23:59:58 to 00:00:00 (from memory); there was none so far.
 */
export function leapAtEndOf(day: number): number {
  return taiMinusUtcS(day + 1) - taiMinusUtcS(day);
}

/**
 * Whether 23:59:60 exists on a UTC day.
 *
 * Inside the table only where the table has it. Beyond its end nobody knows yet: the last day of a
 * month is allowed there, and is then the same instant as the midnight after it.
 */
export function mayHoldLeapSecond(day: number): boolean {
  if (day < leapTable().expiresDay) return leapAtEndOf(day) === 1;
  const { year, month, dayOfMonth } = dateFromDay(day);
  return dayOfMonth === daysInMonth(year, month);
}

/** A UTC reading of an instant: `secondOfDay` runs to 86 400 in a leap second. */
export type UtcReading = Readonly<{ day: number; secondOfDay: number }>;

/**
 * UTC day and whole second of day of a count of TAI seconds.
 *
 * @param taiS whole seconds since 1970-01-01T00:00:00 TAI
 */
export function utcFromTaiSeconds(taiS: number): UtcReading {
  const { entries } = leapTable();
  for (let index = entries.length - 1; index >= 0; index -= 1) {
    const entry = entries[index];
    if (entry === undefined) continue;
    const startTaiS = entry.day * DAY_S + entry.taiMinusUtcS;
    if (taiS >= startTaiS) return splitDay(taiS - entry.taiMinusUtcS);
    const isLeap = taiS === startTaiS - 1 && leapAtEndOf(entry.day - 1) === 1;
    if (isLeap) return { day: entry.day - 1, secondOfDay: DAY_S };
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
  const { entries, expiresDay } = leapTable();
  if (day >= expiresDay) {
    const ends = dayWords(expiresDay);
    return {
      code: 'leap-second-table-expired',
      severity: 'warning',
      message: `${date} lies beyond the leap-second table, which ends on ${ends}; TAI - UTC is taken as ${entries.at(-1)?.taiMinusUtcS} s, UTC may be off by whole seconds`,
      expected: `a date before ${ends}`,
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
