/** Smallest and largest value in each of many equal stretches of time: a drawing that hides no spike. */
import { lowerBound } from '../math/search';

/** One entry a bucket; NaN and count 0 where a bucket has no value. */
export type EnvelopeColumns = Readonly<{
  min: Float64Array;
  max: Float64Array;
  count: Uint32Array;
}>;

export type EnvelopeWindow = Readonly<{ fromS: number; toS: number; buckets: number }>;

/**
 * The envelope of a column over a window.
 *
 * A row at time t falls into bucket floor((t - from) / width); a row at `toS` exactly into the last.
 *
 * @param tS times of the rows, ascending, s
 * @param values the column; NaN cells are passed over
 * @param window first and last time, s, and the number of buckets, at least 1
 * @returns minimum, maximum and number of values of each bucket
 */
export function envelopeOf(
  tS: Float64Array,
  values: Float64Array,
  window: EnvelopeWindow,
): EnvelopeColumns {
  const { fromS, toS, buckets } = window;
  const min = new Float64Array(buckets).fill(Number.NaN);
  const max = new Float64Array(buckets).fill(Number.NaN);
  const count = new Uint32Array(buckets);
  const perS = buckets / (toS - fromS);
  for (let i = lowerBound(tS, fromS); i < tS.length; i++) {
    const atS = tS[i]!;
    if (atS > toS) break;
    const value = values[i]!;
    if (Number.isNaN(value)) continue;
    const bucket = Math.min(buckets - 1, Math.floor((atS - fromS) * perS));
    if (count[bucket] === 0) {
      min[bucket] = value;
      max[bucket] = value;
    } else {
      if (value < min[bucket]!) min[bucket] = value;
      if (value > max[bucket]!) max[bucket] = value;
    }
    count[bucket] = count[bucket]! + 1;
  }
  return { min, max, count };
}
