/** What was measured before contact: means of the last second, or, of positions alone, place and rate at the end of the last 150 s. */
import { type EndState, endState, type NoisySeries } from '../math/end-state';
import { lengthHalf95 } from '../math/length-interval';
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
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
const TAIL_S = 150;
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

/** The state at the end of a channel's last 150 s of data, or as they carry it on to a later instant. */
function lastState<Part extends Measured>(
  samples: Samples,
  untilS: number,
  take: (state: EndState) => Part,
  atS?: number,
): (Part & LastSecondMean) | null {
  const end = lowerBound(samples.tS, untilS + 1e-9);
  const toS = samples.tS[end - 1] ?? Number.NaN;
  const from = lowerBound(samples.tS, toS - TAIL_S - 1e-6);
  const found = endState(noisyTail(samples, from, end), 0, atS);
  if (found === null) return null;
  return { ...take(found), fromS: samples.tS[from] ?? Number.NaN, toS, count: end - from };
}

/**
 * Rate of one channel before an instant, where velocity is not measured: the rate at the end of its last 150 s of
 * data, wandering as much as they ask for.
 *
 * @returns the rate per second with the half-width of its 95 % interval; `null` with fewer than four
 *   updates in them
 */
export function lastRate(samples: Samples, untilS: number): LastSecondMean | null {
  return lastState(samples, untilS, ({ rate, rateHalf }) => ({ value: rate, half: rateHalf }));
}

/**
 * Value of one channel over the last second before an instant, by the level and rate at the end of its data as in
 * `lastRate`: half a second before their end.
 *
 * @returns the value with the half-width of its 95 % interval; `null` as `lastRate`
 */
export function lastLevel(samples: Samples, untilS: number): LastSecondMean | null {
  return lastState(samples, untilS, ({ level, levelHalf, rate }) => ({
    value: level - (LAST_S / 2) * rate,
    half: levelHalf,
  }));
}

/**
 * Value and rate of one channel at an instant as the minutes of data up to an earlier one carry it on, in the way of `lastRate`.
 *
 * @param untilS end of the data used, s
 * @param atS the instant, s, not before it
 * @returns the value with the half-width of its 95 % interval, and the rate per second with its own; `null` as `lastRate`
 */
export function carriedOn(
  samples: Samples,
  untilS: number,
  atS: number,
): (LastSecondMean & Readonly<{ rate: number; rateHalf: number }>) | null {
  const of = ({ level, levelHalf, rate, rateHalf }: EndState) => ({
    ...{ value: level, half: levelHalf },
    ...{ rate, rateHalf },
  });
  return lastState(samples, untilS, of, atS);
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
