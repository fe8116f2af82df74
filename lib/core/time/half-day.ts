/** Times of day by a clock of twelve hours: `1:05:10 PM`. */

const MARKED =
  /^(\s*(?:[[(]\s*)?(?:\d{1,4}[/.-]\d{1,2}[/.-]\d{1,4}[T ,]\s*)?)(\d{1,2})(:\d{2}(?::\d{2}(?:[.,]\d{1,9})?)?)\s?([ap])\.?m\b\.?/i;

/** True where a clock of twelve hours stands at the start of a text, behind a date at most. */
export function hasHalfDay(text: string): boolean {
  return MARKED.test(text);
}

/**
 * Hour of 24 by an hour of twelve: 12 AM is 0, 12 PM is 12.
 *
 * @returns NaN where the clock of twelve hours has no such hour
 */
export function hourOfHalfDay(hour: number, half: string): number {
  if (!(hour >= 1 && hour <= 12)) return Number.NaN;
  return (hour % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
}

/**
 * The same text with its clock of twelve hours written in 24.
 *
 * @param text begins with the time of day, or with a date and it; a bracket may stand in front
 * @returns the text as it is where no AM or PM stands behind its time; null where such an hour
 *   does not exist, `13:05 PM`
 */
export function withFullDay(text: string): string | null {
  const match = MARKED.exec(text);
  if (match === null) return text;
  const [whole, before = '', written = '', rest = '', half = ''] = match;
  const hour = hourOfHalfDay(Number(written), half);
  if (Number.isNaN(hour)) return null;
  return `${before}${String(hour).padStart(2, '0')}${rest}${text.slice(whole.length)}`;
}
