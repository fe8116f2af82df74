/** How a file writes its time stamps: the codes and scales that the readers know. */
import type { Instant } from './instant';

/** Ways of writing a time that a session file may state; the last five go beyond the folder format. */
export const TIME_CODES = [
  'iso8601',
  'ccsds-a',
  'ccsds-b',
  'unix-seconds',
  'unix-milliseconds',
  'unix-nanoseconds',
  'gps-week-seconds',
  'julian-date',
  'elapsed-seconds',
  'elapsed-dhms',
  'unix-microseconds',
  'elapsed-milliseconds',
  'modified-julian-date',
  'days-since-1900',
  'days-since-1904',
] as const;
export type TimeCode = (typeof TIME_CODES)[number];

const DAY_CODES = [
  'julian-date',
  'modified-julian-date',
  'days-since-1900',
  'days-since-1904',
] as const;
export type DayCode = (typeof DAY_CODES)[number];

/** True for the codes that count from an instant which the file does not hold. */
export function isElapsedCode(code: TimeCode): boolean {
  return code === 'elapsed-dhms' || isCounterCode(code);
}

/** True for the codes that count in plain numbers from an instant which the file does not hold. */
export function isCounterCode(code: TimeCode): boolean {
  return code === 'elapsed-seconds' || code === 'elapsed-milliseconds';
}

/** True for the codes that count from 1970; on UTC they have no count of their own for a leap second. */
export function isUnixCode(code: TimeCode): boolean {
  return code.startsWith('unix-');
}

/** True for the codes that write an instant as days with a fraction. */
export function isDayCode(code: TimeCode): code is DayCode {
  return DAY_CODES.some((each) => each === code);
}

/** Scales a stamp may count on. */
export const TIME_SCALES = ['UTC', 'TAI', 'GPS', 'TT'] as const;
export type TimeScale = (typeof TIME_SCALES)[number];

/** Which number comes first in dates that end in the year: `17/04/2031` or `04/17/2031`. */
export const DATE_ORDERS = ['day-month-year', 'month-day-year'] as const;
export type DateOrder = (typeof DATE_ORDERS)[number];

/** How a source writes its stamps. `columns` has two names for `gps-week-seconds`, two or one for a date. */
export type TimeSpec = Readonly<{
  columns: readonly string[];
  code: TimeCode;
  scale: TimeScale;
  /** Where an elapsed code counts from; the session's zero unless the file says otherwise. */
  from: Instant;
  /** As stated for dates that end in the year; absent where none is, and they are not read then. */
  dateOrder?: DateOrder;
}>;
