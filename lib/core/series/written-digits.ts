/** In what digits a column is written, and how far rounding to them may be off. */

/** Standard deviation of a uniform distribution over its width. */
const UNIFORM_SD = 1 / Math.sqrt(12);
/** A column that bends less often does not tell in what digits it is written. Our own choice. */
const FEWEST_BENDS = 6;
/** What arithmetic in doubles leaves of three equal steps, in last places of the largest value. */
const ROUNDING_ULPS = 8;

/**
 * The step in which values are written: the smallest by which one differs from the next. Of values with more digits than noise
 * it is far under that; one that stands still in coarse digits is known no better than they tell.
 *
 * @returns 0 where no two neighbours of `[from, to)` differ
 */
function quantumOf(values: Float64Array, from: number, to: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = from + 1; i < to; i++) {
    const apart = Math.abs(values[i]! - values[i - 1]!);
    if (apart > 0 && apart < least) least = apart;
  }
  return Number.isFinite(least) ? least : 0;
}

/**
 * How often a column changes its slope, as far as `most`; equal steps to the last digits of a double are no change.
 *
 * A column without noise that starts to move and goes on evenly has one or two bends, and its smallest step is that of the
 * motion: it tells nothing of the digits.
 */
function bendCount(values: Float64Array, most: number): number {
  let size = 0;
  for (const value of values) if (Math.abs(value) > size) size = Math.abs(value);
  const least = ROUNDING_ULPS * Number.EPSILON * size;
  let count = 0;
  for (let i = 2; i < values.length && count < most; i++)
    if (Math.abs(values[i - 2]! - 2 * values[i - 1]! + values[i]!) > least) count++;
  return count;
}

/**
 * Standard deviation of a column's rounding.
 *
 * @returns in the unit of the values; 0 where the column does not tell its digits
 */
export function roundingSd(values: Float64Array): number {
  if (bendCount(values, FEWEST_BENDS) < FEWEST_BENDS) return 0;
  return quantumOf(values, 0, values.length) * UNIFORM_SD;
}
