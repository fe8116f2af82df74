/** Words cut to the room that a first look has for them. */

/** Most characters of a quoted line or a reason. */
const LONGEST_WORDS = 130;

/**
 * Words on one line, cut to a length, with an ellipsis where something is left out.
 *
 * @param text any text
 * @param longest characters, the ellipsis included
 */
export function cutWords(text: string, longest = LONGEST_WORDS): string {
  const letters = [...text.replace(/\s+/g, ' ').trim()];
  if (letters.length <= longest) return letters.join('');
  return `${letters
    .slice(0, longest - 1)
    .join('')
    .trimEnd()}\u2026`;
}
