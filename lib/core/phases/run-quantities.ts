/** Ranges and rates of one run of motion. */

import { vanDerCorput } from '../math/even-spread';
import { COMPETES_WITHIN, type Competing, extreme95 } from '../math/extreme-interval';
import { lowerBound } from '../math/search';
import { NORMAL_95, normalQuantile } from '../math/statistics';
import type { MotionEstimate } from '../motion/motion-estimate';
import {
  courseOffMps,
  coursesEndS,
  EXTREMES_INSIDE,
  halfOverCourses,
} from '../motion/rate-courses';
import { motionThrough, rowsAround } from '../motion/sample-motion';
import { stepErrorSdM } from '../motion/step-error';
import type { MotionRun } from './motion-runs';

/** A value with the 95 % half-width of its random part. */
export type Measured = Readonly<{ value: number; half: number }>;

export type RunQuantities = Readonly<{
  rangeStartM: Measured;
  rangeEndM: Measured;
  /** Mean over time, gaps left out, m. */
  rangeMeanM: number;
  meanClosingMps: Measured;
  /** The closing rate of the largest size, with its sign, and when, s. */
  peakClosingMps: Measured;
  peakS: number;
}>;

/**
 * Range at an edge. Past the last row (contact carried on by the axial rate) the axial distance goes
 * on at its last rate and the lateral offset stays.
 */
export function rangeAtEdge(motion: MotionEstimate, atS: number): Measured {
  const last = motion.tS.length - 1;
  const lastS = motion.tS[last] ?? atS;
  const half = NORMAL_95 * motionThrough(motion, 'rangeSdM', atS);
  const axialM = motion.axialM[last] ?? Number.NaN;
  if (atS > lastS && !Number.isNaN(axialM)) {
    const rate = motion.axialClosingMps[last] ?? 0;
    const lateralM = motion.lateralM[last] ?? 0;
    return { value: Math.hypot(axialM - rate * (atS - lastS), lateralM), half };
  }
  const value = rangeInGap(motion, atS) ?? rangeBetween(motion, atS);
  return { value: value ?? motionThrough(motion, 'rangeM', atS), half };
}

/**
 * Range between two rows by the cubic that has the ranges and rates of both, since a straight line is off by an eighth of the
 * acceleration times the step's square; `null` on a row and where no rate is known.
 */
function rangeBetween(motion: MotionEstimate, atS: number): number | null {
  const place = rowsAround(motion, atS);
  if (place === null || place.share === 0) return null;
  const { row, share: u } = place;
  const at = (values: Float64Array, index: number): number => values[index] ?? Number.NaN;
  const stepS = at(motion.tS, row + 1) - at(motion.tS, row);
  const [r0, r1] = [at(motion.rangeM, row), at(motion.rangeM, row + 1)];
  const wayM = r1 - r0;
  const off0 = -at(motion.closingMps, row) * stepS - wayM;
  const off1 = wayM + at(motion.closingMps, row + 1) * stepS;
  const value = r0 + u * wayM + u * (1 - u) * ((1 - u) * off0 + u * off1);
  return Number.isNaN(value) ? null : value;
}

/**
 * Range inside a gap where the rates on its two sides, each carried on, meet in it: on the side of the
 * meeting point. `null` outside gaps and where they don't meet.
 */
function rangeInGap(motion: MotionEstimate, atS: number): number | null {
  const row = motion.stretches.find((span) => (motion.tS[span.from] ?? 0) > atS)?.from ?? 0;
  const at = (values: Float64Array, index: number): number => values[index] ?? Number.NaN;
  const t0 = at(motion.tS, row - 1);
  const t1 = at(motion.tS, row);
  if (!(atS > t0 && atS < t1)) return null;
  const v0 = at(motion.closingMps, row - 1);
  const v1 = at(motion.closingMps, row);
  const before = (whenS: number): number => at(motion.rangeM, row - 1) - v0 * (whenS - t0);
  const after = (whenS: number): number => at(motion.rangeM, row) + v1 * (t1 - whenS);
  const meetS = t0 + (before(t0) - after(t0)) / (v0 - v1);
  if (!(meetS > t0 && meetS < t1)) return null;
  return atS <= meetS ? before(atS) : after(atS);
}

/** Mean over time of a column inside `[fromS, toS]`, steps across gaps left out. */
function timeMean(
  motion: MotionEstimate,
  values: Float64Array,
  fromS: number,
  toS: number,
): number {
  let area = 0;
  let durationS = 0;
  for (const span of motion.stretches) {
    const first = Math.max(span.from, lowerBound(motion.tS, fromS));
    for (let row = first + 1; row < span.to; row++) {
      const atS = motion.tS[row] ?? Number.NaN;
      if (atS > toS) break;
      const stepS = atS - (motion.tS[row - 1] ?? Number.NaN);
      const middle = ((values[row - 1] ?? Number.NaN) + (values[row] ?? Number.NaN)) / 2;
      if (Number.isNaN(middle)) continue;
      area += middle * stepS;
      durationS += stepS;
    }
  }
  return durationS > 0 ? area / durationS : motionThrough(motion, 'rangeM', (fromS + toS) / 2);
}

/** Slopes of lines slid over a position part by this over half the span of a line: their weights rise in a straight line. */
const LINES_PART = 1.5;

/** The estimates that compete for the largest size; those of a derived rate part as fast as their lines are short. */
function competingFor(
  { closingSdMps, ratePartingPerS, rateHalfSpanS, stepS, unseenMps }: MotionEstimate,
  values: Float64Array,
  extreme: number,
  rows: Readonly<{ from: number; to: number }>,
): Competing {
  let [count, parting] = [0, 0];
  for (let row = rows.from; row < rows.to; row++) {
    // An excursion that stands out is one fit: its rows are off together, and do not compete.
    if (unseenMps?.[row] === 0) continue;
    const below = Math.abs(extreme) - Math.abs(values[row] ?? Number.NaN);
    if (!(below <= COMPETES_WITHIN * (closingSdMps[row] ?? 0))) continue;
    count++;
    parting += rateHalfSpanS === null ? ratePartingPerS : LINES_PART / (rateHalfSpanS[row] ?? 1);
  }
  const partingPerS = count > 0 ? parting / count : ratePartingPerS;
  return { lastsS: Math.max(0, count - 1) * stepS, partingPerS, stepS };
}

/**
 * Half-width of the value of largest size over the courses that the rate may have taken where an excursion stands out: the
 * largest of each, be it there or beside. `null` without courses in the rows.
 */
function coursedPeakHalf(
  { tS, closingSdMps, rateCourses }: MotionEstimate,
  column: Float64Array,
  extreme: number,
  { from, to }: Readonly<{ from: number; to: number }>,
): number | null {
  const [firstS, lastS] = [tS[from] ?? Number.NaN, tS[to - 1] ?? Number.NaN];
  const all = rateCourses.filter((one) => one.fromS < lastS && coursesEndS(one) > firstS);
  const [first] = all;
  if (first === undefined) return null;
  const isIn = (atS: number): boolean =>
    all.some((one) => atS >= one.fromS && atS <= coursesEndS(one));
  let rest = -1;
  for (let row = from; row < to; row++) {
    const size = Math.abs(column[row] ?? Number.NaN);
    if (size > Math.abs(column[rest] ?? 0) && !isIn(tS[row] ?? Number.NaN)) rest = row;
  }
  const peaks = first.offsMps.map((_, course) => {
    const noise = normalQuantile(vanDerCorput(course, 5)) * (closingSdMps[rest] ?? 0);
    let peak = rest < 0 ? 0 : (column[rest] ?? 0) + noise;
    for (const courses of all) {
      const start = Math.max(from, lowerBound(tS, courses.fromS));
      const end = coursesEndS(courses);
      for (let row = start; row < to && (tS[row] ?? end) < end; row++) {
        const value = (column[row] ?? Number.NaN) + courseOffMps(courses, course, tS[row] ?? 0);
        if (Math.abs(value) > Math.abs(peak)) peak = value;
      }
    }
    return peak;
  });
  return halfOverCourses(extreme, peaks, EXTREMES_INSIDE);
}

/**
 * How far from the largest value one may lie that an excursion makes which does not stand out: on top of any value to the
 * same side; a jump also from their mean on to the other.
 */
function unseenPeakHalf(
  { unseenMps, unseenJumpMps }: MotionEstimate,
  column: Float64Array,
  extreme: number,
  { from, to }: Readonly<{ from: number; to: number }>,
): number {
  if (unseenMps === null) return 0;
  const known = column.subarray(from, to).filter((value) => !Number.isNaN(value));
  const level = Math.sign(extreme) * (known.reduce((sum, value) => sum + value, 0) / known.length);
  const size = Math.abs(extreme);
  let half = 0;
  for (let row = from; row < to; row++) {
    const value = Math.abs(column[row] ?? Number.NaN);
    if (Number.isNaN(value)) continue;
    const jump = unseenJumpMps?.[row] ?? 0;
    half = Math.max(half, value + Math.max(unseenMps[row] ?? 0, jump) - size);
    if (jump - level > size) half = Math.max(half, jump - level + size);
  }
  return half;
}

/** Rows `[from, to)` of a column that follows the closing rate. */
type FollowingRows = Readonly<{ column: Float64Array; from: number; to: number }>;

/**
 * Half-width of the value of largest size in a column that follows the closing rate, by noise alone: the largest of many
 * noisy values, or what the courses of an excursion that stands out make it.
 *
 * @param row where it is
 */
export function peakNoiseHalf(
  motion: MotionEstimate,
  { column, ...rows }: FollowingRows,
  row: number,
): number {
  const extreme = column[row] ?? Number.NaN;
  const coursed = coursedPeakHalf(motion, column, extreme, rows);
  if (coursed !== null) return coursed;
  return (
    extreme95(competingFor(motion, column, extreme, rows)) *
    (motion.closingSdMps[row] ?? Number.NaN)
  );
}

/** As `peakNoiseHalf`, with what noise may hide. */
export function peakHalf(motion: MotionEstimate, rows: FollowingRows, row: number): number {
  const extreme = rows.column[row] ?? Number.NaN;
  const unseen = unseenPeakHalf(motion, rows.column, extreme, rows);
  return Math.max(peakNoiseHalf(motion, rows, row), unseen);
}

/**
 * The quantities of a run.
 *
 * Mean closing rate is (range at start - range at end) / duration; its interval holds the errors of
 * both ranges and of the duration.
 */
export function runQuantities(motion: MotionEstimate, run: MotionRun): RunQuantities {
  const rangeStartM = rangeAtEdge(motion, run.startS);
  const rangeEndM = rangeAtEdge(motion, run.endS);
  // The edge may lie elsewhere, where the range is another.
  const withEdge = (range: Measured, atS: number, halfS: number): Measured => ({
    value: range.value,
    half: Math.hypot(range.half, halfS * motionThrough(motion, 'closingMps', atS)),
  });
  const durationS = run.endS - run.startS;
  const mean = durationS > 0 ? (rangeStartM.value - rangeEndM.value) / durationS : Number.NaN;
  // An edge that moves by dt moves the range by rate x dt: only rates unlike the mean count.
  const edge = (atS: number, halfS: number): number =>
    halfS * Math.abs(motionThrough(motion, 'closingMps', atS) - mean);
  // What steps after the run leave unknown is the same at both its ends.
  const apart = (range: Measured, atS: number): number =>
    Math.sqrt(
      Math.max(0, range.half ** 2 - (NORMAL_95 * stepErrorSdM(motion, atS, run.endS)) ** 2),
    );
  const meanHalf =
    Math.hypot(
      apart(rangeStartM, run.startS),
      apart(rangeEndM, run.endS),
      edge(run.startS, run.startHalfS),
      edge(run.endS, run.endHalfS),
    ) / durationS;
  const from = lowerBound(motion.tS, run.startS);
  const to = lowerBound(motion.tS, run.endS + 1e-9);
  let peak = Number.NaN;
  let peakRow = -1;
  for (let row = from; row < to; row++) {
    const closing = motion.closingMps[row] ?? Number.NaN;
    if (Number.isNaN(closing) || Math.abs(closing) <= Math.abs(peak)) continue;
    peak = closing;
    peakRow = row;
  }
  return {
    rangeStartM: withEdge(rangeStartM, run.startS, run.startHalfS),
    rangeEndM: withEdge(rangeEndM, run.endS, run.endHalfS),
    rangeMeanM: timeMean(motion, motion.rangeM, run.startS, run.endS),
    meanClosingMps: { value: mean, half: meanHalf },
    peakClosingMps: {
      value: peak,
      half: peakHalf(motion, { column: motion.closingMps, from, to }, peakRow),
    },
    peakS: motion.tS[peakRow] ?? Number.NaN,
  };
}
