/** Numbers as people read them: digits chosen by the uncertainty, a true minus sign, no locale. */

/** U+2212, as wide as a plus; a hyphen is read as a dash in a column of figures. */
const MINUS = '\u2212';

/** Most decimals ever shown: a double carries no more than some 15 significant digits. */
const MOST_DECIMALS = 9;

const WORDS = 'no one two three four five six seven eight nine ten eleven twelve'.split(' ');

/**
 * Decimals that a number with this half-width deserves: one digit of the half-width, two where it
 * starts with 1, because rounding 0.14 to 0.1 would lose a third of it.
 *
 * @param halfWidth half-width of the 95 % interval in the unit shown; null or 0 = not known or exact
 * @param whenUnknown decimals to use then
 * @returns 0 to 9
 *
 * Source: common practice, no source.
 */
export function decimalsFor(halfWidth: number | null, whenUnknown: number): number {
  if (halfWidth === null || !Number.isFinite(halfWidth) || halfWidth <= 0) return whenUnknown;
  const [digit = '1', exponent = '0'] = halfWidth.toExponential(0).split('e');
  const digits = digit === '1' ? 2 : 1;
  return Math.min(MOST_DECIMALS, Math.max(0, digits - 1 - Number(exponent)));
}

/**
 * A number with fixed decimals. A value that rounds to zero carries no sign.
 *
 * @param value in the unit shown
 * @param decimals decimals of the text, 0 or more
 * @returns digits with U+2212 for a negative value; `no value` for NaN and infinities
 */
export function formatNumber(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return 'no value';
  const digits = Math.abs(value).toFixed(decimals);
  return value < 0 && /[1-9]/.test(digits) ? `${MINUS}${digits}` : digits;
}

/**
 * Like `formatNumber`, with a plus where the value is above zero: for differences and margins.
 *
 * @param value in the unit shown
 * @param decimals decimals of the text, 0 or more
 * @returns as `formatNumber`; a value that rounds to zero carries no sign
 */
export function formatSigned(value: number, decimals: number): string {
  const text = formatNumber(value, decimals);
  return value > 0 && /[1-9]/.test(text) ? `+${text}` : text;
}

/**
 * A whole number in groups of three with a no-break thin space: 1 204 000.
 *
 * @param count any number; rounded to a whole one
 * @returns its text; `no value` for NaN
 */
export function formatCount(count: number): string {
  return formatNumber(count, 0).replace(/\B(?=(\d{3})+(?!\d))/g, '\u202f');
}

/**
 * A count inside a sentence.
 *
 * @param count a whole number, 0 or more
 * @returns `no`, `one`, `two` ... `twelve`, digits beyond
 */
export function countWord(count: number): string {
  return WORDS[count] ?? formatCount(count);
}
