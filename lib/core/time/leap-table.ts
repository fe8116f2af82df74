/**
 * The leap-second table in use: the one built in, or a newer list that the operator gave.
 *
 * This is the one value of the core that can be set, and only as a whole: a process sets it once,
 * before it reads a stamp, and what is computed carries its `id` in the hash of its inputs where it
 * is not the built-in one. So the same inputs, the table among them, still give the same bytes.
 *
 * Source: IERS list of leap seconds as carried by the tz database, `leap-seconds.list`, 28 entries,
 * expiring 28 June 2027.
 */
import { dateFromDay, dayFromDate } from './calendar';

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

/** From `day` on (day number, UTC), TAI - UTC is `taiMinusUtcS`. */
export type LeapEntry = Readonly<{ day: number; taiMinusUtcS: number }>;

export type LeapTable = Readonly<{
  /** `built-in`, or what a list was made of. */
  id: string;
  /** Ascending; the first is that of 1 January 1972. */
  entries: readonly LeapEntry[];
  /** First day that the table does not vouch for. */
  expiresDay: number;
}>;

/** The table that the program comes with. */
export const BUILT_IN_LEAP_TABLE: LeapTable = {
  id: 'built-in',
  entries: TABLE.map(([year, month, taiMinusUtcS]) => ({
    day: dayFromDate(year, month, 1),
    taiMinusUtcS,
  })),
  expiresDay: dayFromDate(2027, 6, 28),
};

declare global {
  // One table a process, whichever bundle of the server reads a stamp first.
  var wakelineLeapTable: LeapTable | undefined;
}

/** The table in use. */
export function leapTable(): LeapTable {
  return globalThis.wakelineLeapTable ?? BUILT_IN_LEAP_TABLE;
}

/** Puts another table in use from now on; to be called before any stamp is read. */
export function setLeapTable(table: LeapTable): void {
  globalThis.wakelineLeapTable = table;
}

const MONTHS =
  'January February March April May June July August September October November December'.split(
    ' ',
  );

/** A day in words: `28 June 2027`. */
export function dayWords(day: number): string {
  const { year, month, dayOfMonth } = dateFromDay(day);
  return `${dayOfMonth} ${MONTHS[month - 1] ?? ''} ${year}`;
}
