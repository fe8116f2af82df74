/** Decimal text as whole seconds and nanoseconds, without passing through a double. */
import { NS_PER_S } from './instant';

/** `wholeS` may be negative; `ns` is 0 to 999 999 999, counted forward from it. */
export type SecondParts = Readonly<{ wholeS: number; ns: number }>;

const DECIMAL = /^([+-]?)(\d*)(?:[.,](\d*))?(?:[eE]([+-]?\d{1,3}))?$/;

/**
 * Carries nanoseconds of 10^9 and more into the seconds, and applies the sign to the whole.
 *
 * @param sign of the whole number
 * @param wholeS whole seconds, 0 or more
 * @param ns nanoseconds, 0 or more
 * @returns parts with `ns` in 0 to 999 999 999, counted forward
 */
export function signedParts(sign: 1 | -1, wholeS: number, ns: number): SecondParts {
  const carry = Math.floor(ns / NS_PER_S);
  const whole = wholeS + carry;
  const rest = ns - carry * NS_PER_S;
  if (sign === 1) return { wholeS: whole, ns: rest };
  return rest === 0 ? { wholeS: 0 - whole, ns: 0 } : { wholeS: -whole - 1, ns: NS_PER_S - rest };
}

/**
 * Nanoseconds of the digits after the point.
 *
 * @param digits decimal digits only, any number of them
 * @returns 0 to 10^9: the tenth digit rounds half up, which may carry
 */
export function nanosecondsOf(digits: string): number {
  const kept = Number(digits.slice(0, 9).padEnd(9, '0'));
  return digits.length > 9 && digits.charCodeAt(9) >= 53 ? kept + 1 : kept;
}

/**
 * Reads a decimal number of seconds or of a thousandth, a millionth or a milliardth of them.
 *
 * @param text a decimal with point or comma, optional sign and exponent, no white space
 * @param power 0 for seconds, 3 for milliseconds, 6 for microseconds, 9 for nanoseconds
 * @returns the parts, rounded half away from zero to the nanosecond; null for anything else, and
 *   beyond 15 digits of whole seconds
 */
export function readDecimal(text: string, power: 0 | 3 | 6 | 9): SecondParts | null {
  const match = DECIMAL.exec(text);
  if (match === null) return null;
  const [, sign, whole = '', fraction = '', exponent = '0'] = match;
  if (whole === '' && fraction === '') return null;
  const digits = whole + fraction;
  const point = whole.length + Number(exponent) - power;
  const wholeDigits = point <= 0 ? '' : digits.slice(0, point).padEnd(point, '0');
  if (wholeDigits.replace(/^0+/, '').length > 15) return null;
  const rest = point < 0 ? '0'.repeat(-point) + digits : digits.slice(point);
  return signedParts(sign === '-' ? -1 : 1, Number(wholeDigits), nanosecondsOf(rest));
}

const ELAPSED = /^([+-]?)(?:(\d{1,6})[:/])?(\d{1,7}):(\d{2}):(\d{2})(?:[.,](\d+))?$/;

/**
 * Reads elapsed time with colons: `003:07:45:12.5` (days, hours, minutes, seconds) or `67:45:12`.
 *
 * @param lastMinute seconds of 23:59: 61 on a clock that shows a leap second there
 * @returns the parts; null where hours of a day reach 24, minutes or seconds reach 60, or the text
 *   is no elapsed time. A minus in front turns the whole
 */
export function readElapsed(text: string, lastMinute: 60 | 61 = 60): SecondParts | null {
  const match = ELAPSED.exec(text);
  if (match === null) return null;
  const [, sign, days, hours = '', minutes = '', seconds = '', fraction = ''] = match;
  const isLast = days === undefined && Number(hours) === 23 && Number(minutes) === 59;
  if (Number(minutes) > 59 || Number(seconds) >= (isLast ? lastMinute : 60)) return null;
  if (days !== undefined && (hours.length !== 2 || Number(hours) > 23)) return null;
  const wholeS =
    Number(days ?? 0) * 86_400 + Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds);
  return signedParts(sign === '-' ? -1 : 1, wholeS, nanosecondsOf(fraction));
}
