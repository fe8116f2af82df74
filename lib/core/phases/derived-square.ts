/** How well the mean square of a rate that comes from positions is known. */
import { median, NORMAL_95 } from '../math/statistics';
import type { MotionEstimate } from '../motion/motion-estimate';
import { courseOffMps, coursesEndS, halfOverCourses } from '../motion/rate-courses';

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
export function meanBeside(motion: MotionEstimate, deviation: Float64Array, rows: Rows): number {
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
 * Standard deviation of the integral over time of the square of an excursion that stands out, m2/s: as all its shapes know
 * it, or as the courses of the kind farthest off let it be, whichever is more. What a course is off by from its start
 * on is the rate beside, which is known.
 */
function seenSquareSd(
  { tS, rateCourses }: MotionEstimate,
  deviation: Float64Array,
  besideMps: number,
  { first, last }: Rows,
): number {
  const squareWith = (addMps: (atS: number) => number): number => {
    let square = 0;
    for (let row = first; row <= last; row++) {
      const atS = tS[row] ?? 0;
      const off = (deviation[row] ?? Number.NaN) - besideMps + addMps(atS);
      if (!Number.isNaN(off)) square += (atS - (tS[row - 1] ?? 0)) * off * off;
    }
    return square;
  };
  const seen = squareWith(() => 0);
  return rateCourses.reduce((most, courses) => {
    const { fromS, offsMps, squareShare } = courses;
    const endS = coursesEndS(courses);
    if (fromS > (tS[last] ?? 0) || endS < (tS[first] ?? 0)) return most;
    const each = offsMps.map((off, course) =>
      squareWith((atS) =>
        atS < fromS || atS > endS ? 0 : courseOffMps(courses, course, atS) - (off[0] ?? 0),
      ),
    );
    return Math.max(most, seen * squareShare, halfOverCourses(seen, each) / NORMAL_95);
  }, 0);
}

/**
 * Variance of the integral of the square of a derived rate over time, (m2/s)2, its mean taken as known.
 *
 * Beside fitted excursions the rate is the slope of lines: their noise adds its own square, and twice its product with
 * what the rate varies by. An excursion that stands out is one fit, and its square as well known as all shapes that explain
 * it leave it.
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
  let seenFrom = -1;
  const close = (to: number): void => {
    if (seenFrom < 0) return;
    variance += seenSquareSd(motion, deviation, besideMps, { first: seenFrom, last: to - 1 }) ** 2;
    seenFrom = -1;
  };
  for (const { from, to } of stretches) {
    for (let row = Math.max(from, rows.first) + 1; row < Math.min(to, rows.last + 1); row++) {
      const off = (deviation[row] ?? Number.NaN) - besideMps;
      if (Number.isNaN(off)) continue;
      const stepS = (tS[row] ?? 0) - (tS[row - 1] ?? 0);
      const sd = closingSdMps[row] ?? 0;
      if (unseenMps?.[row] === 0) {
        if (seenFrom < 0) seenFrom = row;
        continue;
      }
      close(row);
      const halfS = rateHalfSpanS?.[row] ?? rateSpanS;
      const weight = stepS * halfS * sd * sd;
      variance += 2 * SQUARES_SHARE * weight * sd * sd;
      // The square seen holds that of the noise: over all rows that goes out of it.
      varied += 4 * MOST_AT_A_FREQUENCY * weight * (off * off - sd * sd);
    }
    close(Math.min(to, rows.last + 1));
  }
  return variance + Math.max(0, varied);
}
