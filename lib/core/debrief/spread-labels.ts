/** Places labels along a line so that none covers another. */

export type SpreadOptions = Readonly<{ gapPx: number; fromPx: number; toPx: number }>;

/**
 * Moves wanted positions apart, keeping their order and staying between the ends where they fit.
 *
 * @param wantedPx where each label would stand
 * @returns where each stands, in the order given; at least `gapPx` apart
 */
export function spreadLabels(
  wantedPx: readonly number[],
  { gapPx, fromPx, toPx }: SpreadOptions,
): readonly number[] {
  const order = wantedPx
    .map((_, index) => index)
    .sort((a, b) => (wantedPx[a] ?? 0) - (wantedPx[b] ?? 0) || a - b);
  const placed = [...wantedPx];
  let least = fromPx;
  for (const index of order) {
    placed[index] = Math.max(placed[index] ?? 0, least);
    least = (placed[index] ?? 0) + gapPx;
  }
  let most = toPx;
  for (const index of [...order].reverse()) {
    placed[index] = Math.min(placed[index] ?? 0, most);
    most = (placed[index] ?? 0) - gapPx;
  }
  return placed;
}
