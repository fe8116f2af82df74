/** How far a piece of a move strayed from the planned closing rate. */
import { lowerBound, profileAt } from '../math/search';
import { NORMAL_95, simultaneous95 } from '../math/statistics';
import { stoppingDistanceM } from '../motion/braking';
import type { MotionEstimate } from '../motion/motion-estimate';
import type { MoveStep } from '../session/plan';
import { competitorsOf, type Measured } from './run-quantities';

/** The ramps at either end and the last metres before the port are left out. */
export type DeviationSpan = Readonly<{
  fromS: number;
  toS: number;
  rangeStartM: number;
  rangeEndM: number;
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
const LAST_BEFORE_PORT_M = 3;

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

/**
 * Closing rate minus the planned rate at that range, over a closing piece of a move without its
 * first and last v2/(2a) metres (v the planned rate at that end) and without the last 3 m before the
 * port. Means are over time, steps across gaps left out; the rate's own noise is taken out of the
 * root mean square.
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
  const ramp = (rangeM: number): number =>
    stoppingDistanceM(profileAt(step.closingRateMps, rangeM), span.accelerationMps2);
  const highM = span.rangeStartM - ramp(span.rangeStartM);
  const lowM = Math.max(span.rangeEndM + ramp(span.rangeEndM), LAST_BEFORE_PORT_M);
  const from = lowerBound(motion.tS, span.fromS);
  const to = lowerBound(motion.tS, span.toS + 1e-9);
  const deviation = new Float64Array(motion.tS.length).fill(Number.NaN);
  let peakRow = -1;
  for (let row = from; row < to; row++) {
    const rangeM = motion.rangeM[row] ?? Number.NaN;
    if (!(rangeM <= highM && rangeM >= lowM)) continue;
    const off = (motion.closingMps[row] ?? Number.NaN) - profileAt(step.closingRateMps, rangeM);
    deviation[row] = off;
    if (peakRow < 0 || Math.abs(off) > Math.abs(deviation[peakRow] ?? 0)) peakRow = row;
  }
  if (peakRow < 0) return null;
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
      sums.outside += secondsAbove(a, b, step.toleranceMps, stepS);
      sums.wider += secondsAbove(a, b, step.toleranceMps + band, stepS);
      sums.narrower += secondsAbove(a, b, Math.max(0, step.toleranceMps - band), stepS);
    }
  }
  if (sums.s === 0) return null;
  const noise = sums.noise / sums.s;
  const share = Math.min(1, motion.rateSpanS / sums.s);
  const square = Math.max(0, sums.square / sums.s - noise);
  const rms = Math.sqrt(square);
  const squareHalf = NORMAL_95 * Math.sqrt(share * (2 * noise * noise + 4 * square * noise));
  const meanSd = motion.rateIsDerived
    ? Math.hypot(motion.rangeSdM[sums.first] ?? 0, motion.rangeSdM[sums.last] ?? 0) / sums.s
    : Math.sqrt(noise * share);
  const rows = { from, to, perEstimate: motion.rateSpanS / motion.stepS };
  const peak = deviation[peakRow] ?? Number.NaN;
  const competitors = competitorsOf(deviation, motion.closingSdMps, peak, rows);
  return {
    meanMps: { value: sums.mean / sums.s, half: NORMAL_95 * meanSd },
    rmsMps: { value: rms, half: Math.min(squareHalf / (2 * rms), Math.sqrt(squareHalf)) },
    peakMps: {
      value: peak,
      half: simultaneous95(competitors) * (motion.closingSdMps[peakRow] ?? Number.NaN),
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
