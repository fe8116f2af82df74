/** What a vehicle does when a hand controller is let go, and what moves besides what was asked. */

/** Rows of one deflection: `from` its first, `to` the first at rest after it. */
export type Deflection = Readonly<{ from: number; to: number }>;

/** Stretches of rows in which a controller is away from its rest, whole ones only. */
export function deflections(
  deflection: Float64Array,
  rest: number,
  threshold: number,
): readonly Deflection[] {
  const found: Deflection[] = [];
  let from = -1;
  deflection.forEach((value, row) => {
    const isAway = Math.abs(value - rest) > threshold;
    if (isAway && from < 0 && row > 0) from = row;
    if (!isAway && from >= 0) {
      found.push({ from, to: row });
      from = -1;
    }
  });
  return found;
}

/** Mean of a rate over `[fromS, toS]` of its rows; NaN where none has a value. */
export function meanBetween(
  tS: Float64Array,
  rate: Float64Array,
  fromS: number,
  toS: number,
): number {
  let sum = 0;
  let count = 0;
  for (let row = 0; row < tS.length; row++) {
    const atS = tS[row] ?? Number.NaN;
    const value = rate[row] ?? Number.NaN;
    if (atS < fromS || atS > toS || Number.isNaN(value)) continue;
    sum += value;
    count++;
  }
  return count === 0 ? Number.NaN : sum / count;
}

/** Root mean square of values that are numbers; NaN for none. */
export function rmsOf(values: readonly number[]): number {
  const there = values.filter((value) => !Number.isNaN(value));
  return Math.sqrt(there.reduce((sum, value) => sum + value * value, 0) / there.length);
}

/**
 * How much of a change goes astray: the sum of the sizes of changes off the axis over that of the
 * changes along it.
 *
 * @param along changes along the axis that was asked for, one an input
 * @param across changes along another, of the same inputs
 * @returns NaN where nothing changed along the axis
 */
export function crossCoupling(along: readonly number[], across: readonly number[]): number {
  let asked = 0;
  let astray = 0;
  along.forEach((change, index) => {
    const other = across[index] ?? Number.NaN;
    if (Number.isNaN(change) || Number.isNaN(other)) return;
    asked += Math.abs(change);
    astray += Math.abs(other);
  });
  return asked > 0 ? astray / asked : Number.NaN;
}
