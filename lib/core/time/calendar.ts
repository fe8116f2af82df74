/** Dates of the proleptic Gregorian calendar as day numbers: 0 is 1970-01-01. No time scale here. */

export const DAY_S = 86_400;

/** A calendar date: `month` 1 to 12, `dayOfMonth` from 1, `year` astronomical. */
export type CivilDate = Readonly<{ year: number; month: number; dayOfMonth: number }>;

const DAYS_BEFORE_MONTH = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334] as const;

/**
 * True for a year of 366 days.
 *
 * @param year astronomical year, 0 and negative allowed
 * @returns whether 29 February exists
 *
 * Source: Gregorian rule, ISO 8601-1:2019, 4.2.1 (clause from memory).
 */
export function isLeapYear(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

/**
 * Length of a month.
 *
 * @param year astronomical year
 * @param month 1 to 12
 * @returns 28 to 31 days; 0 for a month that does not exist
 */
export function daysInMonth(year: number, month: number): number {
  if (month === 2) return isLeapYear(year) ? 29 : 28;
  if (month === 4 || month === 6 || month === 9 || month === 11) return 30;
  return month >= 1 && month <= 12 ? 31 : 0;
}

/** Day number of 1 January of a year. */
function firstDayOfYear(year: number): number {
  const before = year - 1;
  const leapDays = Math.floor(before / 4) - Math.floor(before / 100) + Math.floor(before / 400);
  return before * 365 + leapDays - 719_162;
}

/**
 * Day number of a calendar date.
 *
 * @param year astronomical year, 0 and negative allowed
 * @param month 1 to 12
 * @param dayOfMonth 1 to the length of the month
 * @returns days since 1970-01-01; NaN for a date that does not exist
 */
export function dayFromDate(year: number, month: number, dayOfMonth: number): number {
  if (dayOfMonth < 1 || dayOfMonth > daysInMonth(year, month)) return NaN;
  const before = DAYS_BEFORE_MONTH[month - 1] ?? NaN;
  const leapDay = month > 2 && isLeapYear(year) ? 1 : 0;
  return firstDayOfYear(year) + before + leapDay + dayOfMonth - 1;
}

/**
 * Day number of a year and day of year.
 *
 * @param dayOfYear 1 to 365 or 366
 * @returns days since 1970-01-01; NaN for a day that does not exist
 */
export function dayFromDayOfYear(year: number, dayOfYear: number): number {
  if (dayOfYear < 1 || dayOfYear > (isLeapYear(year) ? 366 : 365)) return NaN;
  return firstDayOfYear(year) + dayOfYear - 1;
}

/**
 * Year and day of year of a day number.
 *
 * @param day whole days since 1970-01-01, any sign
 * @returns `dayOfYear` 1 to 366
 */
export function dayOfYearFromDay(day: number): Readonly<{ year: number; dayOfYear: number }> {
  let year = 1970 + Math.floor(day / 365.2425);
  while (firstDayOfYear(year) > day) year -= 1;
  while (firstDayOfYear(year + 1) <= day) year += 1;
  return { year, dayOfYear: day - firstDayOfYear(year) + 1 };
}

/**
 * Calendar date of a day number.
 *
 * @param day whole days since 1970-01-01, any sign
 * @returns the date; the inverse of `dayFromDate`
 */
export function dateFromDay(day: number): CivilDate {
  const { year, dayOfYear } = dayOfYearFromDay(day);
  let month = 1;
  let left = dayOfYear;
  while (left > daysInMonth(year, month)) {
    left -= daysInMonth(year, month);
    month += 1;
  }
  return { year, month, dayOfMonth: left };
}
