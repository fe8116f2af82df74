/** One column against another at the same places. */

/**
 * `bias` is the mean of a - b, `rms` its root mean square, `peak` the difference farthest from zero
 * with its sign and `peakPlace` where that is (-1 for none). `theil` is Theil's coefficient of
 * inequality in its bounded form, 0 to 1, and `theilBias`, `theilVariance`, `theilCovariance` the
 * shares of the mean square difference that come from unequal means, unequal deviations and imperfect
 * correlation; they add up to 1. NaN where there is nothing to divide: `theil` of columns that are
 * zero throughout, the shares of columns that are equal.
 */
export type PairScores = Readonly<{
  places: number;
  bias: number;
  rms: number;
  peak: number;
  peakPlace: number;
  theil: number;
  theilBias: number;
  theilVariance: number;
  theilCovariance: number;
}>;

type Pairs = readonly Readonly<{ place: number; a: number; b: number }>[];

/** Both columns at the places where both have a value. */
function pairsOf(a: Float64Array, b: Float64Array): Pairs {
  return Array.from(a, (value, place) => ({ place, a: value, b: b[place] ?? Number.NaN })).filter(
    (pair) => !Number.isNaN(pair.a) && !Number.isNaN(pair.b),
  );
}

function meanOf(pairs: Pairs, of: (pair: Pairs[number]) => number): number {
  let sum = 0;
  for (const pair of pairs) sum += of(pair);
  return sum / pairs.length;
}

/** The pair that differs most; the earliest of equals. */
function farthest(pairs: Pairs): Readonly<{ peak: number; peakPlace: number }> {
  let peak = 0;
  let peakPlace = pairs[0]?.place ?? -1;
  for (const { a, b, place } of pairs) {
    if (Math.abs(a - b) <= Math.abs(peak)) continue;
    peak = a - b;
    peakPlace = place;
  }
  return { peak: pairs.length === 0 ? Number.NaN : peak, peakPlace };
}

/**
 * Compares two columns where both have a value; deviations are population ones.
 *
 * @param a the flight
 * @param b what it is held against, in the same unit and at the same places
 *
 * Source: H. Theil, "Economic Forecasts and Policy", 2nd ed. (1961): U = rms(a - b) / (rms a + rms b);
 * shares U_M = (mean a - mean b)^2, U_S = (sd a - sd b)^2, U_C = 2 (1 - r) sd a sd b, each over the
 * mean square difference.
 */
export function pairScores(a: Float64Array, b: Float64Array): PairScores {
  const pairs = pairsOf(a, b);
  const meanA = meanOf(pairs, (pair) => pair.a);
  const meanB = meanOf(pairs, (pair) => pair.b);
  const meanSquare = meanOf(pairs, (pair) => (pair.a - pair.b) ** 2);
  const sdA = Math.sqrt(meanOf(pairs, (pair) => (pair.a - meanA) ** 2));
  const sdB = Math.sqrt(meanOf(pairs, (pair) => (pair.b - meanB) ** 2));
  const covariance = meanOf(pairs, (pair) => (pair.a - meanA) * (pair.b - meanB));
  const rmsA = Math.sqrt(meanOf(pairs, (pair) => pair.a ** 2));
  const rmsB = Math.sqrt(meanOf(pairs, (pair) => pair.b ** 2));
  return {
    places: pairs.length,
    bias: meanA - meanB,
    rms: Math.sqrt(meanSquare),
    ...farthest(pairs),
    theil: Math.sqrt(meanSquare) / (rmsA + rmsB),
    theilBias: (meanA - meanB) ** 2 / meanSquare,
    theilVariance: (sdA - sdB) ** 2 / meanSquare,
    theilCovariance: (2 * (sdA * sdB - covariance)) / meanSquare,
  };
}
