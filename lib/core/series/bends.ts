/** Where a signal bends within the lines that smooth it, and how long lines may be there. */
import { meanVarianceFactor, type Samples } from './samples';

/** A value with its standard deviation at each of some times; `halfSpanS` of the lines, 0 for single samples. */
export type Estimates = Readonly<{ value: Float64Array; sd: Float64Array; halfSpanS: number }>;

/** Shares of the span that are tried, shortest first. */
export const SHORTER = [0.25, 0.5] as const;
/** Where the signal bends by so many standard deviations, shorter lines are looked at. Our own choice: it only saves time. */
const BENDS = 4;
/**
 * Lines that differ from shorter ones by more than so many standard deviations of these are too long. Our own choice: chance
 * makes as much at one of 150,000 samples.
 */
const DIFFERS = 4.5;
/** A second difference of independent values of one size varies by the root of so much. */
const SECOND_DIFFERENCE = 6;
const FEWEST_IN_FIT = 3;

/** Quick noise of a mean over a span, or of a single sample, and what the slow noise wanders by over it. */
function noiseOver(samples: Samples, near: number, halfSpanS: number): number {
  const { sd, correlation, stepS, slowSd, slowS } = samples;
  const count = halfSpanS === 0 ? 1 : Math.max(FEWEST_IN_FIT, (2 * halfSpanS) / stepS);
  const quick = (sd[near] ?? 0) ** 2 * Math.min(1, meanVarianceFactor(correlation) / count);
  const slow = slowSd === null ? 0 : (slowSd[near] ?? 0);
  const wander = 2 * slow * slow * Math.min(1, (halfSpanS + stepS) / slowS);
  return Math.sqrt(quick + wander);
}

/** The sample at or before each time (the first one before them all). */
function nearSamples({ tS }: Samples, atS: Float64Array): Int32Array {
  const out = new Int32Array(atS.length);
  let near = 0;
  for (let row = 0; row < out.length; row++) {
    while (near + 1 < tS.length && tS[near + 1]! <= atS[row]!) near++;
    out[row] = near;
  }
  return out;
}

/**
 * Rows in reach of a bend: the smoothed value's second difference over half its span, or a sample's distance from its line, is
 * more than the quick noise makes.
 *
 * @param value the smoothed value at each asked time
 * @returns ascending
 */
export function bentRows(
  samples: Samples,
  atS: Float64Array,
  value: Float64Array,
  halfSpanS: number,
): Int32Array {
  const n = atS.length;
  const isBent = new Uint8Array(n);
  const mark = (row: number): void => {
    for (let at = row; at >= 0 && atS[row]! - atS[at]! <= halfSpanS && isBent[at] !== 2; at--)
      isBent[at] = at === row ? 2 : 1;
    for (let at = row + 1; at < n && atS[at]! - atS[row]! <= halfSpanS; at++)
      if (isBent[at] === 0) isBent[at] = 1;
  };
  const nearest = nearSamples(samples, atS);
  const reachS = Math.max(halfSpanS, samples.stepS);
  let [before, behind] = [0, 0];
  for (let row = 0; row < n; row++) {
    const whenS = atS[row]!;
    while (before + 1 < n && atS[before + 1]! <= whenS - reachS) before++;
    while (behind + 1 < n && atS[behind]! < whenS + reachS) behind++;
    const near = nearest[row]!;
    const sd = samples.sd[near]!;
    const off = samples.tS[near] === whenS ? Math.abs(samples.values[near]! - value[row]!) : 0;
    const second = Math.abs(value[before]! - 2 * value[row]! + value[behind]!);
    const longSd = noiseOver(samples, near, halfSpanS);
    if (off > DIFFERS * sd || second > BENDS * Math.sqrt(SECOND_DIFFERENCE) * longSd) mark(row);
  }
  let count = 0;
  for (let row = 0; row < n; row++) if (isBent[row] !== 0) count++;
  const rows = new Int32Array(count);
  count = 0;
  for (let row = 0; row < n; row++) if (isBent[row] !== 0) rows[count++] = row;
  return rows;
}

/**
 * Single samples at asked times, straight between two of one piece, the nearer one of two pieces.
 *
 * @param starts first samples of pieces
 */
export function singleSamples(
  samples: Samples,
  atS: Float64Array,
  starts: ReadonlySet<number>,
): Estimates {
  const { tS, values, sd, slowSd } = samples;
  const nearest = nearSamples(samples, atS);
  const value = new Float64Array(atS.length);
  const own = new Float64Array(atS.length);
  for (let row = 0; row < value.length; row++) {
    const near = nearest[row]!;
    const next = Math.min(near + 1, tS.length - 1);
    const lengthS = tS[next]! - tS[near]!;
    let share = lengthS > 0 ? Math.min(1, Math.max(0, (atS[row]! - tS[near]!) / lengthS)) : 0;
    if (starts.has(next)) share = Math.round(share);
    value[row] = (1 - share) * values[near]! + share * values[next]!;
    own[row] = Math.hypot(sd[near]!, slowSd?.[near] ?? 0);
  }
  return { value, sd: own, halfSpanS: 0 };
}

/**
 * Puts at each bent row the longest estimate that differs from no shorter one by more than 4.5 of the shorter one's
 * standard deviations.
 *
 * @param rows the bent rows, `bentS` their times, s
 * @param lines the longest lines at all rows; changed in place
 * @param shorter estimates at the bent rows, shortest first
 *
 * Source: A. Goldenshluger, A. Nemirovski, "On spatially adaptive estimation of nonparametric regression", Math. Methods
 * Statist. 6 (1997) 135: the intersection of confidence intervals.
 */
export function takeLongest(
  samples: Samples,
  { rows, bentS }: Readonly<{ rows: Int32Array; bentS: Float64Array }>,
  lines: Pick<Estimates, 'value' | 'sd'>,
  shorter: readonly Estimates[],
): void {
  const nearest = nearSamples(samples, bentS);
  rows.forEach((row, k) => {
    const longest = lines.value[row]!;
    if (Number.isNaN(longest)) return;
    const longestSd = lines.sd[row]!;
    let [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (const { value, sd, halfSpanS } of shorter) {
      const here = value[k]!;
      if (!(here >= low && here <= high)) return;
      lines.value[row] = here;
      lines.sd[row] = sd[k]!;
      const reach = DIFFERS * noiseOver(samples, nearest[k]!, halfSpanS);
      low = Math.max(low, here - reach);
      high = Math.min(high, here + reach);
    }
    if (!(longest >= low && longest <= high)) return;
    lines.value[row] = longest;
    lines.sd[row] = longestSd;
  });
}
