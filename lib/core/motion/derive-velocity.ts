/** Velocity from position alone. */
import { lowerBound } from '../math/search';
import { meanVarianceFactor, type Samples } from '../series/samples';
import { type Smoothed, smoothSamples } from '../series/smooth';
import type { MeasuredMotion } from './measured-motion';
import {
  findRatePulses,
  pulseRateMps,
  pulseRateSdMps,
  pulseWayM,
  type RatePulse,
} from './rate-pulses';
import { gapOf, stretchesOf } from './row-spans';

export const LONGEST_DERIVED_HALF_SPAN_S = 15;

/**
 * Rate from position alone: a straight line slid over a span that grows with the noise, so that the
 * rate's standard error is a fifth of the plan's hold rate (between 1 s and 15 s to either side).
 * Pulses that such a span would flatten are found and taken out first, and put back afterwards.
 */
export function deriveVelocity(
  position: Samples,
  motion: MeasuredMotion,
): Smoothed & Readonly<{ levelSdM: Float64Array; halfSpanS: Float64Array }> {
  const wanted = motion.holdRateMps / 5;
  const raise = meanVarianceFactor(position.correlation);
  const halfSpanS = new Float64Array(motion.tS.length);
  let near = 0;
  motion.tS.forEach((atS, row) => {
    while (near + 1 < position.tS.length && (position.tS[near + 1] ?? atS) <= atS) near++;
    const sd = position.sd[near] ?? 0;
    const cube = (1.5 * position.stepS * sd * sd * raise) / (wanted * wanted);
    const least = Math.max(1, 2 * position.stepS);
    halfSpanS[row] = Math.min(
      Math.max(Math.cbrt(cube), least),
      Math.max(LONGEST_DERIVED_HALF_SPAN_S, least),
    );
  });
  const gapS = gapOf(position, motion);
  const pulses = findRatePulses(position, stretchesOf(position.tS, gapS), motion.holdRateMps);
  const line = smoothSamples(withoutPulses(position, pulses), motion.tS, {
    halfSpanS,
    gapS,
    jumpThreshold: Number.POSITIVE_INFINITY,
  });
  addPulses(line, pulses, motion.tS);
  return { ...line, value: line.slope, sd: line.slopeSd, levelSdM: line.sd, halfSpanS };
}

/** The position as it would have been without the pulses. */
function withoutPulses(position: Samples, pulses: readonly RatePulse[]): Samples {
  if (pulses.length === 0) return position;
  const values = position.values.slice();
  for (const pulse of pulses) {
    for (let i = lowerBound(position.tS, pulse.atS); i < values.length; i++) {
      values[i] = (values[i] ?? Number.NaN) - pulseWayM(pulse, position.tS[i] ?? pulse.atS);
    }
  }
  return { ...position, values };
}

/** Puts the pulses' rates back, with their uncertainty. */
function addPulses(line: Smoothed, pulses: readonly RatePulse[], tS: Float64Array): void {
  for (const pulse of pulses) {
    for (let row = lowerBound(tS, pulse.atS); row < tS.length; row++) {
      const rateMps = pulseRateMps(pulse, tS[row] ?? pulse.atS);
      if (rateMps === 0) break;
      const sdMps = pulseRateSdMps(pulse, tS[row] ?? pulse.atS);
      line.slope[row] = (line.slope[row] ?? Number.NaN) + rateMps;
      line.slopeSd[row] = Math.hypot(line.slopeSd[row] ?? Number.NaN, sdMps);
    }
  }
}
