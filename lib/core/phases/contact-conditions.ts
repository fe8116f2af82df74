/** Conditions at contact, from the means of what was measured over the last second before it. */
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import { lineVariance, type Samples, slopeVariance } from '../series/samples';
import type { Measured } from './run-quantities';

/** Mean of one channel over the last second of its data before contact. */
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

/** Without measured velocity one second of position tells no rate: so long a stretch is used, s. */
const SLOPE_S = 6;

/**
 * Rate of one channel before an instant, where velocity is not measured: the slope of a straight line
 * through the last six seconds of its data.
 *
 * @returns the slope per second with the 95 % half-width of its noise; `null` with fewer than three
 *   updates in the stretch
 */
export function lastSlope(samples: Samples, untilS: number): LastSecondMean | null {
  const end = lowerBound(samples.tS, untilS + 1e-9);
  const toS = samples.tS[end - 1] ?? Number.NaN;
  const from = lowerBound(samples.tS, toS - SLOPE_S - 1e-6);
  const count = end - from;
  if (count < 3) return null;
  let sumT = 0;
  let sumY = 0;
  for (let i = from; i < end; i++) {
    sumT += (samples.tS[i] ?? 0) - toS;
    sumY += samples.values[i] ?? Number.NaN;
  }
  let spread = 0;
  let product = 0;
  for (let i = from; i < end; i++) {
    const t = (samples.tS[i] ?? 0) - toS - sumT / count;
    spread += t * t;
    product += t * ((samples.values[i] ?? Number.NaN) - sumY / count);
  }
  const fromS = samples.tS[from] ?? Number.NaN;
  return {
    value: product / spread,
    half: NORMAL_95 * Math.sqrt(slopeVariance(samples, end - 1, 1 / spread, toS - fromS)),
    fromS,
    toS,
    count,
  };
}

/**
 * Root of the sum of squares of two means. With both near zero the interval is that of the larger
 * half-width, since the root cannot show a sign.
 */
export function vectorSum(a: Measured, b: Measured): Measured {
  const value = Math.hypot(a.value, b.value);
  const along =
    value > 0 ? Math.hypot(a.value * a.half, b.value * b.half) / value : Math.max(a.half, b.half);
  return { value, half: along };
}
