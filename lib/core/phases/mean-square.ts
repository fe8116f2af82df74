/** What smoothing and noise do to the mean square of a rate. */
import { isLeap } from '../math/edge-resolution';
import type { MotionEstimate } from '../motion/motion-estimate';

/**
 * How unlike the noise of two estimates so many rows apart is, 0 to 1: one minus its correlation. Lines over
 * n rows share all but `apart` of them; errors that hang together for longer are the more alike.
 */
export function unlikeness(
  { rateLinesS, rateSpanS, stepS }: MotionEstimate,
  apart: number,
): number {
  if (rateLinesS === null) return 0;
  const rows = Math.round(rateLinesS / stepS) + 1;
  return Math.min(1, apart / rows) * Math.min(1, (rows * stepS) / rateSpanS);
}

/** Rows that lines of a measured rate reach to either side. */
function reachOf({ rateLinesS, stepS }: MotionEstimate): number {
  return Math.max(1, Math.round((rateLinesS ?? 0) / 2 / stepS));
}

/**
 * How often the noise's own square is in the mean square of a measured rate, and taken out of it: once as it is,
 * and once more in the bends that say how much lines took off.
 */
export function noiseTimes(motion: MotionEstimate): number {
  if (motion.rateLinesS === null) return 1;
  const reach = reachOf(motion);
  return 1 + (2 * (1 + 1 / reach) * unlikeness(motion, reach)) / 3;
}

/**
 * What lines over a span take off the mean square of a rate that bends, m2/s2: lines move the rate by half
 * the mean square of their rows' distances times its bend, and its square by twice the rate times that. Of
 * m rows to either side that mean is (1 + 1/m) / 3 of the square of half the span. Bends are second
 * differences over half the span, and none across a leap, which the lines do not cross either. They are those of
 * the lines, which are flattened themselves: of a rise not much longer than the span half is found.
 *
 * Source: elementary; the second moment of a level window, 1 + 4 + ... + m2 = m (m + 1) (2 m + 1) / 6.
 */
export function flattenedSquare(
  motion: MotionEstimate,
  deviation: Float64Array,
  rows: Readonly<{ first: number; last: number }>,
): number {
  const { tS, closingSdMps, rateLinesS } = motion;
  if (rateLinesS === null) return 0;
  const reach = reachOf(motion);
  const at = (row: number): number => deviation[row] ?? Number.NaN;
  const change = (row: number): number => Math.abs(at(row) - at(row - 1));
  const unlike = unlikeness(motion, reach);
  let lastLeap = Number.NEGATIVE_INFINITY;
  let lost = 0;
  let count = 0;
  for (let row = rows.first; row <= rows.last; row++) {
    if (Number.isNaN(at(row))) continue;
    count++;
    const beside = Math.max(change(row - 1) || 0, change(row + 1) || 0);
    if (isLeap(change(row), beside, closingSdMps[row] ?? 0)) lastLeap = row;
    const [first, middle] = [row - 2 * reach, row - reach];
    const spanS = (tS[row] ?? Number.NaN) - (tS[first] ?? Number.NaN);
    const bend = at(row) - 2 * at(middle) + at(first);
    if (Number.isNaN(bend + spanS) || lastLeap > first || spanS > 1.5 * rateLinesS) continue;
    lost -= at(middle) * bend + 2 * unlike * (closingSdMps[middle] ?? 0) ** 2;
  }
  return count === 0 ? 0 : ((1 + 1 / reach) * lost) / count / 3;
}
