/** In what digits a column is written, and how far rounding to them may be off. */

/** Standard deviation of a uniform distribution over its width. */
const UNIFORM_SD = 1 / Math.sqrt(12);
/**
 * A column that bends less often does not tell in what digits it is written, nor one that takes fewer values and does not return
 * from one within a row as often: jets make rates of few values. Our own choice.
 */
const FEWEST_BENDS = 6;
const FEWEST_VALUES = 10;
const FEWEST_SINGLE_VALUES = 3;
/**
 * Nor, where its values keep to no decimal place, does one that goes on evenly at most of its changes: rounding is seen where
 * steps differ by a digit. Our own choice.
 */
const BENDS_PER_CHANGE = 0.3;
/** Of its changes so many are whole numbers of digits, but for this share of one: others come from arithmetic. */
const WHOLE_CHANGES = 0.95;
const WHOLE = 1e-3;
/** So many others are too many in any column. */
const LONG_OFF = 5000;
/** What arithmetic in doubles leaves of three equal steps, in last places of the largest value. */
const ROUNDING_ULPS = 8;
/** A value is a whole number of places where it is off by less than this of one; finer places are none. */
const LEAST_OFF = 1e-9;
const MOST_PLACES = 1e8;

/**
 * The step in which values are written: the smallest by which one differs from the next. Of values with more digits than noise
 * it is far under that; one that stands still in coarse digits is known no better than they tell.
 *
 * @returns 0 where no two neighbours differ
 */
export function smallestChange(values: Float64Array): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 1; i < values.length; i++) {
    const apart = Math.abs(values[i]! - values[i - 1]!);
    if (apart > 0 && apart < least) least = apart;
  }
  return Number.isFinite(least) ? least : 0;
}

/** True where nearly all changes are whole numbers of digits. */
function isOnGrid(values: Float64Array, digit: number): boolean {
  let [changes, off] = [0, 0];
  for (let i = 1; i < values.length; i++) {
    const digits = Math.abs(values[i]! - values[i - 1]!) / digit;
    if (digits === 0) continue;
    changes++;
    if (Math.abs(digits - Math.round(digits)) > WHOLE) off++;
    if (off > LONG_OFF) return false;
  }
  return off <= (1 - WHOLE_CHANGES) * changes;
}

/** True where a column takes many values, goes to and fro between few, or from one digit to the next through some. */
function takesDigits(values: Float64Array, digit: number): boolean {
  const seen = new Set<number>();
  const next = digit * (1 + WHOLE);
  let [returns, single] = [0, 0];
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!Number.isNaN(value)) seen.add(value);
    if (i >= 2 && value === values[i - 2] && value !== values[i - 1]) returns++;
    if (i >= 1 && value !== values[i - 1] && Math.abs(value - values[i - 1]!) <= next) single++;
    if (seen.size >= FEWEST_VALUES || returns >= FEWEST_BENDS) return true;
    if (seen.size >= FEWEST_SINGLE_VALUES && single >= FEWEST_BENDS) return true;
  }
  return false;
}

/**
 * The last decimal place that a column is written in: all its values are whole numbers of it, to the last digits of doubles.
 *
 * @returns 1, 0.1, … down to 1e-8; 0 where it has more
 */
function lastPlace(values: Float64Array): number {
  let power = 1;
  for (let i = 0; i < values.length; i++) {
    const value = Math.abs(values[i]!);
    for (;;) {
      const places = value * power;
      const near = LEAST_OFF + 2 * ROUNDING_ULPS * Number.EPSILON * places;
      if (!(Math.abs(places - Math.round(places)) > near)) break;
      power *= 10;
      if (power > MOST_PLACES) return 0;
    }
  }
  return 1 / power;
}

/**
 * True where a column changes its slope often enough, by itself and for each of its changes; equal steps to the last digits of a
 * double are no change.
 *
 * A column without noise that starts to move and goes on evenly has one or two bends, and its smallest step is that of the
 * motion: it tells nothing of the digits. One that jets make is even between them.
 */
function bendsOften(values: Float64Array, perChange: number): boolean {
  let size = 0;
  for (const value of values) if (Math.abs(value) > size) size = Math.abs(value);
  const least = ROUNDING_ULPS * Number.EPSILON * size;
  let [bends, changes] = [0, 0];
  for (let i = 2; i < values.length; i++) {
    const change = values[i]! - values[i - 1]!;
    if (change !== 0) changes++;
    if (Math.abs(values[i - 2]! - values[i - 1]! + change) > least) bends++;
    if (perChange === 0 && bends >= FEWEST_BENDS) return true;
  }
  return bends >= Math.max(FEWEST_BENDS, perChange * changes);
}

/**
 * Standard deviation of a column's rounding: to the last decimal place that all values keep to, or to the smallest change
 * where others are whole numbers of it and steps differ by it.
 *
 * @returns in the unit of the values; 0 where the column does not tell its digits
 */
export function roundingSd(values: Float64Array): number {
  const place = lastPlace(values);
  const digit = place > 0 ? place : smallestChange(values);
  if (digit === 0 || !takesDigits(values, digit)) return 0;
  if (place === 0 && !isOnGrid(values, digit)) return 0;
  return bendsOften(values, place > 0 ? 0 : BENDS_PER_CHANGE) ? digit * UNIFORM_SD : 0;
}
