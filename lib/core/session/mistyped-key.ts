/** The key that was meant by one that is not known. */

/** Damerau-Levenshtein distance in its optimal string alignment form: edits of one letter. */
function editDistance(from: string, to: string): number {
  let before: number[] = [];
  let last = Array.from({ length: to.length + 1 }, (_, index) => index);
  for (let row = 1; row <= from.length; row += 1) {
    const here = [row];
    for (let column = 1; column <= to.length; column += 1) {
      const isSame = from[row - 1] === to[column - 1];
      const isSwap = from[row - 1] === to[column - 2] && from[row - 2] === to[column - 1];
      here[column] = Math.min(
        (last[column] ?? 0) + 1,
        (here[column - 1] ?? 0) + 1,
        (last[column - 1] ?? 0) + (isSame ? 0 : 1),
        isSwap ? (before[column - 2] ?? 0) + 1 : Number.POSITIVE_INFINITY,
      );
    }
    before = last;
    last = here;
  }
  return last[to.length] ?? 0;
}

/**
 * The nearest of the free keys, when it is near enough to be a slip of the pen.
 *
 * @param key the key that is not known
 * @param free known keys that are not there yet
 * @returns the key meant; null where none is within two edits (one for keys of up to four letters)
 */
export function findMistyped(key: string, free: readonly string[]): string | null {
  if (key.length > 60) return null;
  let nearest: string | null = null;
  let least = Math.min(2, Math.ceil(key.length / 4)) + 1;
  for (const each of free) {
    // A unit left out, as in hold for hold_m, is one slip however long the unit is.
    const edits = each.startsWith(`${key}_`) ? 1 : editDistance(key.toLowerCase(), each);
    if (edits < least) {
      least = edits;
      nearest = each;
    }
  }
  return nearest;
}
