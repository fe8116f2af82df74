/** How well the mean square of a rate that comes from positions is known. */
import { median } from '../math/statistics';
import type { MotionEstimate } from '../motion/motion-estimate';
import { coursesEndS } from '../motion/rate-courses';

type Rows = Readonly<{ first: number; last: number }>;

/**
 * Slopes of lines slid over white noise share data while less than the span of a line apart: the square of their
 * correlation adds up to this many half spans, to both sides. Over half a span u it is 1 - 3u/2 + u3/4.
 */
const SQUARES_SHARE = 24 / 35;
/** Nor has their noise at any frequency more than this, in variances times half the span: the largest of 6 j1(w)2. */
const MOST_AT_A_FREQUENCY = 1.14;

/**
 * Noise in the square of a derived rate, m2/s2, as at most of its rows: what the shape of an excursion may be
 * widens the rate's interval there, and is no noise on its square.
 */
export function derivedNoise(
  { closingSdMps }: MotionEstimate,
  deviation: Float64Array,
  rows: Rows,
): number {
  const known = closingSdMps
    .subarray(rows.first, rows.last + 1)
    .filter((sd, index) => !Number.isNaN(sd + (deviation[rows.first + index] ?? Number.NaN)));
  return known.length === 0 ? 0 : median(known) ** 2;
}

/** Mean over the rows outside excursions that stand out; over all where there are no others. */
function meanBeside(motion: MotionEstimate, deviation: Float64Array, rows: Rows): number {
  let [sum, count, all, many] = [0, 0, 0, 0];
  for (let row = rows.first; row <= rows.last; row++) {
    const here = deviation[row] ?? Number.NaN;
    if (Number.isNaN(here)) continue;
    [all, many] = [all + here, many + 1];
    if (motion.unseenMps?.[row] !== 0) [sum, count] = [sum + here, count + 1];
  }
  return count > 0 ? sum / count : all / many;
}

/**
 * Variance of the integral of the square of a derived rate over time, (m2/s)2, its mean taken as known.
 *
 * Beside fitted excursions the rate is the slope of lines: their noise adds its own square, and twice its product with
 * what the rate varies by. An excursion that stands out is one fit, and its square as well known as all shapes that explain
 * it leave it (`excursion-square.ts`).
 *
 * @param motion the estimate, its rate derived
 * @param deviation what is squared, at the rows, m/s; NaN where nothing is
 * @param rows first and last row of it
 *
 * Valid: errors of lines hang together over the span of one.
 * Source: elementary; the autocorrelation of weights that rise in a straight line, and their Fourier transform, a spherical
 * Bessel function.
 */
export function derivedSquareVariance(
  motion: MotionEstimate,
  deviation: Float64Array,
  rows: Rows,
): number {
  const { tS, stretches, closingSdMps, unseenMps, rateHalfSpanS, rateSpanS } = motion;
  const besideMps = meanBeside(motion, deviation, rows);
  let [variance, varied] = [0, 0];
  let [energy, atS, height] = [0, Number.NaN, 0];
  const close = (): void => {
    if (energy === 0) return;
    const seen = motion.rateCourses.find(
      (courses) => atS >= courses.fromS && atS <= coursesEndS(courses),
    );
    variance += (energy * (seen?.squareShare ?? 0)) ** 2;
    [energy, atS, height] = [0, Number.NaN, 0];
  };
  for (const { from, to } of stretches) {
    for (let row = Math.max(from, rows.first) + 1; row < Math.min(to, rows.last + 1); row++) {
      const off = (deviation[row] ?? Number.NaN) - besideMps;
      if (Number.isNaN(off)) continue;
      const stepS = (tS[row] ?? 0) - (tS[row - 1] ?? 0);
      const sd = closingSdMps[row] ?? 0;
      if (unseenMps?.[row] === 0) {
        energy += stepS * off * off;
        if (Math.abs(off) > height) [height, atS] = [Math.abs(off), tS[row] ?? atS];
        continue;
      }
      close();
      const halfS = rateHalfSpanS?.[row] ?? rateSpanS;
      const weight = stepS * halfS * sd * sd;
      variance += 2 * SQUARES_SHARE * weight * sd * sd;
      // The square seen holds that of the noise: over all rows that goes out of it.
      varied += 4 * MOST_AT_A_FREQUENCY * weight * (off * off - sd * sd);
    }
    close();
  }
  return variance + Math.max(0, varied);
}

/**
 * Mean square that one excursion which slow noise hides adds over some time: a third of its height's
 * square while it lasts, up and back at the plan's acceleration.
 */
export function unseenSquare(
  motion: MotionEstimate,
  rows: Rows,
  { accelerationMps2 }: Readonly<{ accelerationMps2: number }>,
  durationS: number,
): number {
  let height = 0;
  for (let row = rows.first; motion.unseenMps !== null && row <= rows.last; row++) {
    height = Math.max(height, motion.unseenMps[row] ?? 0);
  }
  const lastsS = accelerationMps2 > 0 ? (2 * height) / accelerationMps2 : 0;
  return (height * height * Math.min(lastsS, durationS)) / (3 * durationS);
}
