/** Places in an ascending column. */

/**
 * First index whose value is at or after `value`.
 *
 * @param ascending strictly or weakly ascending, without NaN
 * @returns 0 to `ascending.length`; the length where all values are smaller
 */
export function lowerBound(ascending: ArrayLike<number>, value: number): number {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (ascending[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Linear between points `[position, value]`, held outside them.
 *
 * @param points ascending in position; at least one
 * @returns the value; NaN for no points
 */
export function profileAt(
  points: readonly (readonly [position: number, value: number])[],
  position: number,
): number {
  const first = points[0];
  const last = points[points.length - 1];
  if (first === undefined || last === undefined) return Number.NaN;
  if (position <= first[0]) return first[1];
  if (position >= last[0]) return last[1];
  for (let i = 1; i < points.length; i++) {
    // By index: taking pairs apart costs more than the search.
    const p1 = points[i]![0];
    if (position > p1) continue;
    const v1 = points[i]![1];
    const p0 = points[i - 1]![0];
    const v0 = points[i - 1]![1];
    return p1 === p0 ? v1 : v0 + ((v1 - v0) * (position - p0)) / (p1 - p0);
  }
  return last[1];
}

/** Slope of the profile at a position, per unit of position; 0 outside the points. */
export function profileSlopeAt(
  points: readonly (readonly [position: number, value: number])[],
  position: number,
): number {
  for (let i = 1; i < points.length; i++) {
    const p0 = points[i - 1]![0];
    const p1 = points[i]![0];
    if (position >= p0 && position < p1) return (points[i]![1] - points[i - 1]![1]) / (p1 - p0);
  }
  return 0;
}
