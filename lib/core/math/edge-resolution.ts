/** How well rows resolve the time at which a threshold is crossed. */

/**
 * Half-width that the spacing of rows adds to an interpolated crossing between `row - 1` and `row`.
 *
 * Where the value changes between the two rows as it does beside them, the straight line resolves
 * the crossing, and this is 0. Where it leaps (a jet between two rows), the crossing may lie anywhere
 * between them, and this is the distance to the further one.
 *
 * @param tS times of the rows, s
 * @param values the crossing column
 * @param row the row after the crossing
 * @param edgeS the interpolated crossing, s
 * @param sd the values' standard deviation there
 */
export function crossingResolutionS(
  tS: Float64Array,
  values: Float64Array,
  row: number,
  edgeS: number,
  sd: number,
): number {
  const beforeS = tS[row - 1];
  const afterS = tS[row];
  if (beforeS === undefined || afterS === undefined) return 0;
  const change = (at: number): number => {
    const step = Math.abs((values[at] ?? Number.NaN) - (values[at - 1] ?? Number.NaN));
    return Number.isNaN(step) ? 0 : step;
  };
  const leap = change(row);
  const beside = Math.max(change(row - 1), change(row + 1));
  if (leap <= 3 * beside + 4 * sd) return 0;
  return Math.max(edgeS - beforeS, afterS - edgeS);
}
