/** How far a piece of a move strayed from the planned closing rate. */
import { lowerBound, profileAt } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import { stoppingDistanceM } from '../motion/braking';
import type { MotionEstimate } from '../motion/motion-estimate';
import type { MoveStep } from '../session/plan';
import { meanBeside } from './derived-square';
import { derivedRms, measuredRms } from './deviation-rms';
import { hiddenDeviations, hiddenPeakHalf, standsOut } from './hidden-deviation';
import { unlikeness } from './mean-square';
import { type Measured, peakNoiseHalf } from './run-quantities';

/** The ramps at either end and the metres next to the port are left out. */
export type DeviationSpan = Readonly<{
  fromS: number;
  toS: number;
  rangeStartM: number;
  rangeEndM: number;
  /** 95 % half-widths of the edges, s. */
  startHalfS: number;
  endHalfS: number;
  accelerationMps2: number;
}>;

export type DeviationNumbers = Readonly<{
  meanMps: Measured;
  rmsMps: Measured;
  peakMps: Measured;
  peakS: Measured;
  peakRangeM: Measured;
  outsideToleranceS: Measured;
}>;

/** Range and axial distance part this close to the port, m (contract). */
export const NEXT_TO_PORT_M = 3;

/**
 * Where a piece of a move is held against its profile: between its ramps of v2/(2a), v the planned rate at
 * that end, and no closer to the port than 3 m.
 *
 * @param piece ranges at its start and end, m; either may be the larger
 * @returns the nearer and the farther range, m; the nearer is the larger where nothing is left between the ramps
 */
export function profiledRangesM(
  step: MoveStep,
  piece: Readonly<{ rangeStartM: number; rangeEndM: number }>,
  accelerationMps2: number,
): Readonly<{ nearM: number; farM: number }> {
  const ramp = (rangeM: number): number =>
    stoppingDistanceM(profileAt(step.closingRateMps, rangeM), accelerationMps2);
  const innerM = Math.min(piece.rangeStartM, piece.rangeEndM);
  const outerM = Math.max(piece.rangeStartM, piece.rangeEndM);
  return {
    nearM: Math.max(innerM + ramp(innerM), NEXT_TO_PORT_M),
    farM: outerM - ramp(outerM),
  };
}

/** Seconds of the step from `a` to `b` (over `stepS`) with the size above the bound, by straight line. */
function secondsAbove(a: number, b: number, bound: number, stepS: number): number {
  const part = (low: number, high: number): number => {
    if (low <= bound && high <= bound) return 0;
    if (low >= bound && high >= bound) return 1;
    const share = (bound - low) / (high - low);
    return low > bound ? share : 1 - share;
  };
  return stepS * Math.min(1, part(a, b) + part(-a, -b));
}

/** Half-width of a time of extreme: how long the values stay within noise of it. */
function extremeHalfS(
  motion: MotionEstimate,
  deviation: Float64Array,
  row: number,
  first: number,
  last: number,
): number {
  const peak = deviation[row] ?? 0;
  const band = NORMAL_95 * Math.SQRT2 * (motion.closingSdMps[row] ?? 0);
  let low = row;
  let high = row;
  while (low > first && Math.abs((deviation[low - 1] ?? Number.NaN) - peak) <= band) low--;
  while (high < last && Math.abs((deviation[high + 1] ?? Number.NaN) - peak) <= band) high++;
  return Math.max(((motion.tS[high] ?? 0) - (motion.tS[low] ?? 0)) / 2, 0.475 * motion.stepS);
}

/** What the numbers may owe to the ends: the span begins and ends where the edges of the piece are put. */
type EndEffects = Readonly<{
  meanMps: number;
  squareM2ps2: number;
  /** Row of the largest deviation farther from the ends; -1 for none. */
  innerRow: number;
}>;

/**
 * How far the ends of the span may lie elsewhere, by the edges' half-widths and by the range there over the
 * rate, and what that changes: the mean and the mean square by what is deviated there. Of the peak another is left
 * without the rows so near to an end.
 */
function endEffects(
  motion: MotionEstimate,
  deviation: Float64Array,
  sums: Readonly<{ first: number; last: number; s: number; mean: number }>,
  span: DeviationSpan,
): EndEffects {
  const at = (values: Float64Array, row: number): number => values[row] ?? Number.NaN;
  const slackS = (row: number, halfS: number): number => {
    const halfM = NORMAL_95 * at(motion.rangeSdM, row);
    return Math.min(sums.s / 2, Math.hypot(halfS, halfM / Math.abs(at(motion.closingMps, row))));
  };
  const { first, last } = sums;
  const [startS, endS] = [slackS(first, span.startHalfS), slackS(last, span.endHalfS)];
  const [a, b] = [at(deviation, first), at(deviation, last)];
  const mean = sums.mean / sums.s;
  let [inner, innerRow] = [-1, -1];
  for (let row = first; row <= last; row++) {
    const size = Math.abs(at(deviation, row));
    const atS = at(motion.tS, row);
    if (atS < at(motion.tS, first) + startS || atS > at(motion.tS, last) - endS) continue;
    if (size > inner) [inner, innerRow] = [size, row];
  }
  return {
    meanMps: Math.hypot((a - mean) * startS, (b - mean) * endS) / sums.s,
    squareM2ps2: Math.hypot(a * a * startS, b * b * endS) / sums.s,
    innerRow,
  };
}

/**
 * Half-width of a peak that may lie outside the span: it then is the largest deviation farther from the ends, of the
 * same sign or not, with that one's own half-width.
 */
function innerPeakHalf(
  motion: MotionEstimate,
  deviation: Float64Array,
  innerRow: number,
  { from, to, peak }: Readonly<{ from: number; to: number; peak: number }>,
): number {
  const inner = deviation[innerRow] ?? peak;
  if (inner === peak) return 0;
  const rows = { column: deviation, from, to };
  return Math.abs(peak - inner) + peakNoiseHalf(motion, rows, innerRow);
}

type Rows = Readonly<{ from: number; to: number }>;

/** The deviation at the rows of a span where it is held against the profile, NaN elsewhere; `peakRow` is -1 for none. */
function deviationAt(
  motion: MotionEstimate,
  step: MoveStep,
  span: DeviationSpan,
  { from, to }: Rows,
): Readonly<{ deviation: Float64Array; peakRow: number }> {
  const { nearM, farM } = profiledRangesM(step, span, span.accelerationMps2);
  const deviation = new Float64Array(motion.tS.length).fill(Number.NaN);
  let peakRow = -1;
  for (let row = from; row < to; row++) {
    const rangeM = motion.rangeM[row] ?? Number.NaN;
    if (!(rangeM <= farM && rangeM >= nearM)) continue;
    const off = (motion.closingMps[row] ?? Number.NaN) - profileAt(step.closingRateMps, rangeM);
    deviation[row] = off;
    if (peakRow < 0 || Math.abs(off) > Math.abs(deviation[peakRow] ?? 0)) peakRow = row;
  }
  return { deviation, peakRow };
}

/** Sums over time of a deviation between rows, straight from one to the next; steps across gaps are left out. */
function sumDeviation(
  motion: MotionEstimate,
  deviation: Float64Array,
  toleranceMps: number,
  { from, to }: Rows,
) {
  const sums = {
    first: -1,
    last: -1,
    s: 0,
    mean: 0,
    square: 0,
    noise: 0,
    outside: 0,
    wider: 0,
    narrower: 0,
  };
  for (const stretch of motion.stretches) {
    for (let row = Math.max(stretch.from, from) + 1; row < Math.min(stretch.to, to); row++) {
      const a = deviation[row - 1] ?? Number.NaN;
      const b = deviation[row] ?? Number.NaN;
      if (Number.isNaN(a + b)) continue;
      const stepS = (motion.tS[row] ?? 0) - (motion.tS[row - 1] ?? 0);
      const sd = motion.closingSdMps[row] ?? 0;
      const band = NORMAL_95 * sd;
      sums.s += stepS;
      if (sums.first < 0) sums.first = row - 1;
      sums.last = row;
      sums.mean += (stepS * (a + b)) / 2;
      sums.square += (stepS * (a * a + a * b + b * b)) / 3;
      sums.noise += stepS * sd * sd;
      sums.outside += secondsAbove(a, b, toleranceMps, stepS);
      sums.wider += secondsAbove(a, b, toleranceMps + band, stepS);
      sums.narrower += secondsAbove(a, b, Math.max(0, toleranceMps - band), stepS);
    }
  }
  return sums;
}

/**
 * Closing rate minus the planned rate at that range, over a piece of a move without its first and last
 * v2/(2a) metres (v the planned rate at that end) and without the 3 m next to the port. Of a move outwards
 * both rates are negative, so a deviation below zero is opening faster than planned. Means are over time,
 * steps across gaps left out; the rate's own noise is taken out of the root mean square, and what smoothing
 * took off it put back.
 *
 * @param motion the estimated motion
 * @param step the move with its planned profile
 * @param span the piece's edges and ranges, and the plan's acceleration
 * @returns the numbers, m/s, s and m; `null` when nothing is left between the ramps
 */
export function rateDeviation(
  motion: MotionEstimate,
  step: MoveStep,
  span: DeviationSpan,
): DeviationNumbers | null {
  const from = lowerBound(motion.tS, span.fromS);
  const to = lowerBound(motion.tS, span.toS + 1e-9);
  const { deviation, peakRow } = deviationAt(motion, step, span, { from, to });
  if (peakRow < 0) return null;
  const sums = sumDeviation(motion, deviation, step.toleranceMps, { from, to });
  if (sums.s === 0) return null;
  const meanMps = sums.mean / sums.s;
  // Between two rows a straight line is less noisy than at them.
  const noise = (sums.noise / sums.s) * (1 - unlikeness(motion, 1) / 3);
  const meanSd = motion.rateIsDerived
    ? Math.hypot(motion.rangeSdM[sums.first] ?? 0, motion.rangeSdM[sums.last] ?? 0) / sums.s
    : Math.sqrt(noise * Math.min(1, motion.rateSpanS / sums.s));
  const found = { ...sums, meanMps, meanSd, square: sums.square / sums.s, noise };
  const hidden = motion.rateIsDerived ? hiddenDeviations(motion, deviation, sums) : null;
  const rms =
    hidden === null
      ? measuredRms(motion, deviation, found)
      : derivedRms(motion, deviation, found, hidden);
  const peak = deviation[peakRow] ?? Number.NaN;
  const noiseHalf = peakNoiseHalf(motion, { column: deviation, from, to }, peakRow);
  const besideMps = meanBeside(motion, deviation, sums);
  const ends = endEffects(motion, deviation, sums, span);
  return {
    meanMps: { value: meanMps, half: Math.hypot(NORMAL_95 * meanSd, ends.meanMps) },
    rmsMps: {
      value: rms.value,
      half: Math.max(rms.half, Math.sqrt(rms.value ** 2 + ends.squareM2ps2) - rms.value),
    },
    peakMps: {
      value: peak,
      half: Math.max(
        hidden === null
          ? noiseHalf
          : hiddenPeakHalf(hidden, {
              ...{ value: peak, half: noiseHalf, besideMps },
              elseMps: standsOut(motion, sums) ? peak : besideMps,
            }),
        innerPeakHalf(motion, deviation, ends.innerRow, { from, to, peak }),
      ),
    },
    peakS: {
      value: motion.tS[peakRow] ?? Number.NaN,
      half: extremeHalfS(motion, deviation, peakRow, from, to - 1),
    },
    peakRangeM: {
      value: motion.rangeM[peakRow] ?? Number.NaN,
      half: NORMAL_95 * (motion.rangeSdM[peakRow] ?? Number.NaN),
    },
    outsideToleranceS: {
      value: sums.outside,
      half: Math.max((sums.narrower - sums.wider) / 2, 0.475 * motion.stepS),
    },
  };
}
