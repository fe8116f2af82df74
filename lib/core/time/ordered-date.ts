/**
 * Dates that end in the year: `17/04/2031 09:12:30`, `4/17/2031 9:12:30 AM`, `17.04.2031 09:12`. Which
 * of the two numbers is the day no single stamp says up to the twelfth of a month.
 */
import { hourOfHalfDay } from './half-day';
import type { DateOrder } from './time-code';

const ORDERED =
  /^\s*(\d{1,2})([/.-])(\d{1,2})\2(\d{4})[T ,]\s*(\d{1,2})(:\d{2}(?::\d{2}(?:[.,]\d+)?)?)\s*(?:([ap])\.?m\.?)?\s*(z|utc|[+-]\d{2}:?\d{0,2})?\s*$/i;
const DATE_ALONE = /^\s*(\d{1,2})([/.-])(\d{1,2})\2\d{4}(?=$|[T ,])/;

/** The two numbers before the year; null where a text does not begin with such a date. */
export function numbersBeforeYear(text: string): readonly [number, number] | null {
  const match = DATE_ALONE.exec(text);
  return match === null ? null : [Number(match[1]), Number(match[3])];
}

function hourOf(written: string, half: string | undefined): number {
  return half === undefined ? Number(written) : hourOfHalfDay(Number(written), half);
}

/**
 * The same stamp as ISO 8601 writes it.
 *
 * @param text a date that ends in the year, and the time of day, of 24 hours or with AM and PM
 * @returns `2031-04-17 09:12:30`, with what follows it; null where the text is no such stamp
 */
export function isoOfOrdered(text: string, order: DateOrder): string | null {
  const match = ORDERED.exec(text);
  if (match === null) return null;
  const [, first = '', , second = '', year = '', written = '', rest = '', half, zone = ''] = match;
  const [day, month] = order === 'day-month-year' ? [first, second] : [second, first];
  const hour = hourOf(written, half);
  if (Number.isNaN(hour)) return null;
  const two = (digits: string): string => digits.padStart(2, '0');
  return `${year}-${two(month)}-${two(day)} ${two(String(hour))}${rest}${zone.toUpperCase()}`;
}

/** What a whole file says of the order of its dates. */
export type OrderFound = DateOrder | 'open' | 'mixed';

/**
 * The order that the largest numbers of a file allow: no month is over 12.
 *
 * @param largestFirst the largest number in front of all dates of the file
 * @param largestSecond the largest second number
 * @returns `open` where both orders read every date, `mixed` where neither does
 */
export function findDateOrder(largestFirst: number, largestSecond: number): OrderFound {
  const [isDayFirst, isDaySecond] = [largestFirst > 12, largestSecond > 12];
  if (isDayFirst && isDaySecond) return 'mixed';
  if (isDayFirst) return 'day-month-year';
  return isDaySecond ? 'month-day-year' : 'open';
}
