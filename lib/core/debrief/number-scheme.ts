/** What a team calls its debriefs: its own words round the number. */

/** Used until the team says otherwise. */
export const USUAL_SCHEME = 'Debrief {number}';

const LONGEST = 60;
const PLACE = /\{(number|year)(?::(\d))?\}/g;

/**
 * What is wrong with a scheme, as one sentence; null when nothing is.
 *
 * A scheme is plain text with `{number}` once, also `{number:3}` for at least three digits, and
 * `{year}`, the year of publication (UTC).
 */
export function schemeFault(scheme: string): string | null {
  if (scheme.trim() === '') return 'The scheme is empty.';
  if (scheme.length > LONGEST) return `The scheme has more than ${LONGEST} characters.`;
  const numbers = [...scheme.matchAll(PLACE)].filter(([, name]) => name === 'number').length;
  if (numbers !== 1) return 'The scheme needs {number} once, or {number:3} for three digits.';
  const rest = scheme.replace(PLACE, '');
  if (/[{}]/.test(rest)) return 'In braces stand {number}, {number:3} and {year} only.';
  return /^[\p{L}\p{N} ._/#()-]*$/u.test(rest)
    ? null
    : 'Letters, digits, spaces and . _ / # ( ) - may stand in a scheme.';
}

/**
 * The designation of one debrief: `ARR-2027-012` for `ARR-{year}-{number:3}`.
 *
 * @param scheme without fault
 * @param place the number, and when it is published
 */
export function designationOf(
  scheme: string,
  place: Readonly<{ number: number; publishedAtIso: string }>,
): string {
  const values = { number: String(place.number), year: place.publishedAtIso.slice(0, 4) };
  return scheme.replace(PLACE, (_, name: keyof typeof values, digits: string | undefined) =>
    values[name].padStart(Number(digits ?? 1), '0'),
  );
}
