/** Sample quantiles of the nine Hyndman-Fan types. */

export type QuantileType = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9;

/** (alpha, beta) of the continuous types: the position is n p + alpha + p (1 - alpha - beta). */
const PLOTTING: Readonly<Record<4 | 5 | 6 | 7 | 8 | 9, readonly [number, number]>> = {
  4: [0, 1],
  5: [0.5, 0.5],
  6: [0, 0],
  7: [1, 1],
  8: [1 / 3, 1 / 3],
  9: [3 / 8, 3 / 8],
};

/** A position this close to a whole number is that number: n p in doubles is not exact. */
const FUZZ = 4 * Number.EPSILON;

function order(sorted: ArrayLike<number>, rank: number): number {
  const n = sorted.length;
  return sorted[Math.min(n, Math.max(1, rank)) - 1]!;
}

function whole(position: number): Readonly<{ floor: number; rest: number }> {
  const nearest = Math.round(position);
  if (Math.abs(position - nearest) <= FUZZ * Math.max(1, Math.abs(position))) {
    return { floor: nearest, rest: 0 };
  }
  const floor = Math.floor(position);
  return { floor, rest: position - floor };
}

/**
 * Quantile of sorted values. Always name the type beside a percentile that is shown.
 *
 * @param sorted ascending, without NaN
 * @param p probability, 0 to 1
 * @param type 1 to 3 step functions, 4 to 9 linear between order statistics; 7 is the usual default
 * @returns the quantile in the values' unit; NaN for no values
 *
 * Source: R. J. Hyndman, Y. Fan, "Sample quantiles in statistical packages", The American
 * Statistician 50 (1996) 361.
 */
export function quantileSorted(sorted: ArrayLike<number>, p: number, type: QuantileType): number {
  const n = sorted.length;
  if (n === 0) return Number.NaN;
  if (type === 1 || type === 2) {
    const { floor, rest } = whole(n * p);
    if (rest > 0) return order(sorted, floor + 1);
    return type === 1
      ? order(sorted, floor)
      : (order(sorted, floor) + order(sorted, floor + 1)) / 2;
  }
  if (type === 3) {
    const { floor, rest } = whole(n * p - 0.5);
    return order(sorted, rest === 0 && floor % 2 === 0 ? floor : floor + 1);
  }
  const [alpha, beta] = PLOTTING[type];
  const { floor, rest } = whole(n * p + alpha + p * (1 - alpha - beta));
  const low = order(sorted, floor);
  return rest === 0 ? low : low + rest * (order(sorted, floor + 1) - low);
}

/** Quantile of values in any order; NaN values are left out. */
export function quantile(values: ArrayLike<number>, p: number, type: QuantileType): number {
  const sorted = Float64Array.from(values)
    .filter((value) => !Number.isNaN(value))
    .sort();
  return quantileSorted(sorted, p, type);
}
