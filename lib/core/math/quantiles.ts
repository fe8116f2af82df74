/** Sample quantiles of the nine Hyndman-Fan types. */
import { selectInPlace } from './statistics';

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
  return quantileOf(sorted.length, (rank) => sorted[rank - 1]!, p, type);
}

/** The quantile from order statistics asked for by rank, 1 to n. */
function quantileOf(
  n: number,
  ranked: (rank: number) => number,
  p: number,
  type: QuantileType,
): number {
  if (n === 0) return Number.NaN;
  const order = (rank: number): number => ranked(Math.min(n, Math.max(1, rank)));
  if (type === 1 || type === 2) {
    const { floor, rest } = whole(n * p);
    if (rest > 0) return order(floor + 1);
    return type === 1 ? order(floor) : (order(floor) + order(floor + 1)) / 2;
  }
  if (type === 3) {
    const { floor, rest } = whole(n * p - 0.5);
    return order(rest === 0 && floor % 2 === 0 ? floor : floor + 1);
  }
  const [alpha, beta] = PLOTTING[type];
  const { floor, rest } = whole(n * p + alpha + p * (1 - alpha - beta));
  const low = order(floor);
  return rest === 0 ? low : low + rest * (order(floor + 1) - low);
}

/** Quantile of values in any order; NaN values are left out. */
export function quantile(values: ArrayLike<number>, p: number, type: QuantileType): number {
  return quantiles(values, [p], type)[0]!;
}

/**
 * Several quantiles of values in any order, by selection in place of a sort; NaN values are left out.
 *
 * @param probabilities 0 to 1, in any order; asked in ascending order each takes less
 */
export function quantiles(
  values: ArrayLike<number>,
  probabilities: readonly number[],
  type: QuantileType,
): number[] {
  const work = new Float64Array(values.length);
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!Number.isNaN(value)) work[count++] = value;
  }
  return quantilesInPlace(work, count, { probabilities, type });
}

/**
 * As `quantiles`, of the first `count` values of `work`, which it reorders; none of them is NaN.
 *
 * @param probabilities 0 to 1, in any order; asked in ascending order each takes less
 */
export function quantilesInPlace(
  work: Float64Array,
  count: number,
  { probabilities, type }: Readonly<{ probabilities: readonly number[]; type: QuantileType }>,
): number[] {
  // What lies under a rank found before needs no second look.
  let done = 0;
  const ranked = (rank: number): number => {
    const k = rank - 1;
    const value = selectInPlace(work, count, k, k >= done ? done : 0);
    if (k >= done) done = k;
    return value;
  };
  return probabilities.map((p) => quantileOf(count, ranked, p, type));
}
