/** What was measured before contact: means of the last second, or, of positions alone, place and rate at the end of the last 300 s. */
import { type EndState, endCourses, endState } from '../math/end-state';
import { lengthHalf95 } from '../math/length-interval';
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { NoisySeries } from '../math/sway-filter';
import { lineVariance, meanVarianceFactor, type Samples } from '../series/samples';
import type { Measured } from './run-quantities';

/** One channel's value or rate before contact, with the first and last sample it rests on, s, and their number. */
export type LastSecondMean = Measured & Readonly<{ fromS: number; toS: number; count: number }>;

const LAST_S = 1;

/**
 * Mean over the last second of a channel's data before an instant.
 *
 * @param samples the channel's updates; at least one at or before `untilS` is needed
 * @param untilS the instant, s
 * @returns the mean with the 95 % half-width of its noise (neighbours' correlation counted), and
 *   the times of the first and last update in it; `null` where there is none
 */
export function lastSecondMean(samples: Samples, untilS: number): LastSecondMean | null {
  const end = lowerBound(samples.tS, untilS + 1e-9);
  if (end === 0) return null;
  const toS = samples.tS[end - 1] ?? Number.NaN;
  const from = lowerBound(samples.tS, toS - LAST_S - 1e-6);
  let sum = 0;
  for (let i = from; i < end; i++) sum += samples.values[i] ?? Number.NaN;
  const count = end - from;
  const fromS = samples.tS[from] ?? Number.NaN;
  const line = { lengthS: toS - fromS, offS: 0 };
  return {
    value: sum / count,
    half: NORMAL_95 * Math.sqrt(lineVariance(samples, end - 1, 1 / count, line)),
    fromS,
    toS,
    count,
  };
}

/**
 * Without measured velocity one second of position tells no rate: so much before the end is looked at, s. Longer than the rate is
 * wanted over, since how much it has wandered says how much it wanders.
 */
const TAIL_S = 300;
/**
 * Along the axis an approach ends at a commanded rate: that it neither wanders nor sways is as likely as not before looking.
 * Across the axis something always sways.
 */
const AXIAL_STEADY_SHARE = 0.5;
/** Values written without noise are still rounded, m. */
const LEAST_SD = 1e-6;

/** A channel's last updates with the variances of their noise. */
function noisyTail(samples: Samples, from: number, to: number): NoisySeries {
  const raise = meanVarianceFactor(samples.correlation);
  const square = (sd: number): number => sd * sd;
  return {
    tS: samples.tS.subarray(from, to),
    values: samples.values.subarray(from, to),
    white: samples.sd.subarray(from, to).map((sd) => raise * square(Math.max(sd, LEAST_SD))),
    slow: samples.slowSd?.subarray(from, to).map(square) ?? new Float64Array(to - from),
    slowS: samples.slowS,
  };
}

/** What a channel's last 300 s of data say of an instant at their end or after it. */
type Carried<Part> = (take: (state: EndState) => Part, atS?: number) => Part & LastSecondMean;

/** The ways in which a channel's last 300 s of data may have come to their end; `null` with fewer than four updates. */
function carrying<Part extends Measured>(
  samples: Samples,
  untilS: number,
  steadyShare: number,
): Carried<Part> | null {
  const end = lowerBound(samples.tS, untilS + 1e-9);
  const toS = samples.tS[end - 1] ?? Number.NaN;
  const from = lowerBound(samples.tS, toS - TAIL_S - 1e-6);
  const courses = endCourses(noisyTail(samples, from, end), steadyShare);
  if (courses === null) return null;
  const seen = { fromS: samples.tS[from] ?? Number.NaN, toS, count: end - from };
  return (take, atS) => ({ ...take(endState(courses, atS)), ...seen });
}

const rateOf = ({ rate, rateHalf }: EndState): Measured => ({ value: rate, half: rateHalf });

/**
 * Rate of one channel across the axis before an instant, where velocity is not measured: the rate at the end of its last
 * 300 s of data, wandering or swaying as much as they ask for.
 *
 * @returns the rate per second with the half-width of its 95 % interval; `null` with fewer than four
 *   updates in them
 */
export function lastRate(samples: Samples, untilS: number): LastSecondMean | null {
  return carrying(samples, untilS, 0)?.(rateOf) ?? null;
}

/** As `lastRate`, of the channel along the axis: its rate is steady at the end as likely as not before looking. */
export function lastAxialRate(samples: Samples, untilS: number): LastSecondMean | null {
  return carrying(samples, untilS, AXIAL_STEADY_SHARE)?.(rateOf) ?? null;
}

/**
 * Value of one channel over the last second before an instant, by the level and rate at the end of its data as in
 * `lastRate`: half a second before their end.
 *
 * @returns the value with the half-width of its 95 % interval; `null` as `lastRate`
 */
export function lastLevel(samples: Samples, untilS: number): LastSecondMean | null {
  const take = ({ level, levelHalf, rate }: EndState): Measured => ({
    value: level - (LAST_S / 2) * rate,
    half: levelHalf,
  });
  return carrying(samples, untilS, 0)?.(take) ?? null;
}

/**
 * Value and rate of one channel as the minutes of data up to an instant carry it on, in the way of `lastRate`: no steady
 * rate is supposed, which makes no more of where it is than the data say.
 *
 * @param untilS end of the data used, s
 * @returns for an instant not before it, s: the value with the half-width of its 95 % interval, and the rate per second
 *   with its own; `null` as `lastRate`
 */
export function carriedOn(
  samples: Samples,
  untilS: number,
): ((atS: number) => LastSecondMean & Readonly<{ rate: number; rateHalf: number }>) | null {
  const carried = carrying<Measured & { rate: number; rateHalf: number }>(samples, untilS, 0);
  if (carried === null) return null;
  const of = ({ level, levelHalf, rate, rateHalf }: EndState) => ({
    ...{ value: level, half: levelHalf },
    ...{ rate, rateHalf },
  });
  return (atS) => carried(of, atS);
}

/**
 * Root of the sum of squares of two means. Noise across the sum never makes it smaller: near zero it lies above the
 * truth, and its interval is wider than that along it (`lengthHalf95`).
 */
export function vectorSum(a: Measured, b: Measured): Measured {
  const value = Math.hypot(a.value, b.value);
  const [c, s] = value > 0 ? [a.value / value, b.value / value] : [1, 0];
  const along = Math.hypot(c * a.half, s * b.half) / NORMAL_95;
  const across = Math.hypot(s * a.half, c * b.half) / NORMAL_95;
  return { value, half: lengthHalf95(value, along, across) };
}
