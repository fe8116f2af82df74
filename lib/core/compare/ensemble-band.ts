/** The band that many runs fill, place by place. */
import { type QuantileType, quantilesInPlace } from '../math/quantiles';

/**
 * Quantiles of the runs at each place: linear between order statistics (Hyndman and Fan's type 7).
 *
 * `runsThere` counts the runs that have a value at the place; the quantiles are over those and NaN
 * where there is none.
 */
export type EnsembleBand = Readonly<{
  runsThere: readonly number[];
  p05: Float64Array;
  p50: Float64Array;
  p95: Float64Array;
}>;

/** Both edges of the band and its middle; the type is named beside every percentile shown. */
const BAND: Readonly<{ probabilities: readonly number[]; type: QuantileType }> = {
  probabilities: [0.05, 0.5, 0.95],
  type: 7,
};

/**
 * @param runs one column a run, all sampled at the same places; NaN = the run has no value there
 * @param places how many places there are
 *
 * Source: R. J. Hyndman, Y. Fan, "Sample quantiles in statistical packages", The American
 * Statistician 50 (1996) 361, type 7.
 */
export function ensembleBand(runs: readonly Float64Array[], places: number): EnsembleBand {
  const p05 = new Float64Array(places);
  const p50 = new Float64Array(places);
  const p95 = new Float64Array(places);
  const runsThere: number[] = [];
  const work = new Float64Array(runs.length);
  for (let place = 0; place < places; place++) {
    let count = 0;
    for (const run of runs) {
      const value = run[place] ?? Number.NaN;
      if (!Number.isNaN(value)) work[count++] = value;
    }
    runsThere.push(count);
    const [low, middle, high] = quantilesInPlace(work, count, BAND);
    p05[place] = low ?? Number.NaN;
    p50[place] = middle ?? Number.NaN;
    p95[place] = high ?? Number.NaN;
  }
  return { runsThere, p05, p50, p95 };
}

/** True at each place where a value lies below `p05` or above `p95`; a place without either is not. */
export function placesOutside(
  values: Float64Array,
  band: Pick<EnsembleBand, 'p05' | 'p95'>,
): readonly boolean[] {
  return Array.from(values, (value, place) => {
    const low = band.p05[place] ?? Number.NaN;
    const high = band.p95[place] ?? Number.NaN;
    return value < low || value > high;
  });
}

/**
 * Neighbouring places outside, as pairs of first and last place.
 *
 * @param follows whether a place is the next one after the place before it; nothing is told of what lies
 *   between two that are not
 */
export function outsideStretches(
  outside: readonly boolean[],
  follows: (place: number) => boolean,
): readonly (readonly [first: number, last: number])[] {
  const stretches: [number, number][] = [];
  outside.forEach((isOutside, place) => {
    const last = stretches[stretches.length - 1];
    if (!isOutside) return;
    if (last !== undefined && last[1] === place - 1 && follows(place)) last[1] = place;
    else stretches.push([place, place]);
  });
  return stretches;
}

/** Share of the places with a value that lie outside; NaN where there is none. */
export function shareOutside(
  values: Float64Array,
  band: Pick<EnsembleBand, 'p05' | 'p95'>,
): number {
  let there = 0;
  let out = 0;
  for (let place = 0; place < values.length; place++) {
    const value = values[place] ?? Number.NaN;
    const low = band.p05[place] ?? Number.NaN;
    const high = band.p95[place] ?? Number.NaN;
    if (Number.isNaN(value) || Number.isNaN(low) || Number.isNaN(high)) continue;
    there++;
    if (value < low || value > high) out++;
  }
  return there === 0 ? Number.NaN : out / there;
}
