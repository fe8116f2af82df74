/** Two sets of words held against each other, whoever wrote them down in whatever order. */

/**
 * What somebody said as one text, the same whatever the order of its keys.
 *
 * @param said a flat value of a people.yaml, as it was read or kept
 */
export function wordsKey(said: object): string {
  return JSON.stringify(Object.entries(said).sort(([a], [b]) => (a < b ? -1 : 1)));
}
