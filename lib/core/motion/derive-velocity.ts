/** Velocity from position alone. */
import { lowerBound } from '../math/search';
import { meanNoiseSd, type Samples } from '../series/samples';
import { type Smoothed, smoothSamples } from '../series/smooth';
import { widenBesideRamps } from './beside-ramps';
import { excursionRateMps, excursionWayM } from './excursion-shape';
import type { MeasuredMotion } from './measured-motion';
import { clusterErrors, type RampCluster, rampClusters } from './ramp-errors';
import { type RateCourses, withCommonError } from './rate-courses';
import { excursionSdMps, findRateExcursions, type RateExcursion } from './rate-excursions';
import { findRateRamps, type RateRamp, rampAddedM, rampRateMps } from './rate-ramps';
import { gapOf, stretchesOf } from './row-spans';

/** Ramps and excursions are out of it: what is left is nearly straight over this long to either side, s. */
export const LONGEST_DERIVED_HALF_SPAN_S = 30;

/** A rate from positions; `excursions` are where one stood out of the noise, with the courses it may have taken. */
type DerivedVelocity = Smoothed &
  Readonly<{
    levelSdM: Float64Array;
    halfSpanS: Float64Array;
    excursions: readonly RateCourses[];
  }>;

/**
 * Rate from position alone: a straight line slid over a span that grows with the noise, so that the
 * rate's standard error is a fifth of the plan's hold rate (between 1 s and 15 s to either side).
 * Excursions that such a span would flatten are found and taken out first, and put back afterwards.
 */
export function deriveVelocity(position: Samples, motion: MeasuredMotion): DerivedVelocity {
  const wanted = motion.holdRateMps / 5;
  const halfSpanS = new Float64Array(motion.tS.length);
  let near = 0;
  motion.tS.forEach((atS, row) => {
    while (near + 1 < position.tS.length && (position.tS[near + 1] ?? atS) <= atS) near++;
    const sd = meanNoiseSd(position, near);
    const cube = (1.5 * position.stepS * sd * sd) / (wanted * wanted);
    const least = Math.max(1, 2 * position.stepS);
    halfSpanS[row] = Math.min(
      Math.max(Math.cbrt(cube), least),
      Math.max(LONGEST_DERIVED_HALF_SPAN_S, least),
    );
  });
  const gapS = gapOf(position, motion);
  const spans = stretchesOf(position.tS, gapS);
  const excursions = findRateExcursions(position, spans, motion.holdRateMps);
  const calm = withoutExcursions(position, excursions);
  const found = spans.map((span) => findRateRamps(calm, span));
  const clusters = found.flatMap(rampClusters);
  const ramps = clusters.flatMap((cluster) => cluster.ramps);
  const line = smoothSamples(withoutRamps(calm, ramps), motion.tS, {
    halfSpanS,
    gapS,
    jumpThreshold: Number.POSITIVE_INFINITY,
  });
  addRamps(line, ramps, motion.tS);
  widenBesideRamps(line, clusters, spans, { position, tS: motion.tS, halfSpanS });
  widenAtRamps(line, clusters, motion.tS, position);
  const courses = excursions.map(({ shape, courses: own }) => {
    const row = Math.min(motion.tS.length - 1, lowerBound(motion.tS, shape.atS));
    return withCommonError(own, line.slopeSd[row] ?? Number.NaN);
  });
  addExcursions(line, excursions, motion.tS);
  return {
    ...line,
    value: line.slope,
    sd: line.slopeSd,
    levelSdM: line.sd,
    halfSpanS,
    excursions: courses,
  };
}

/** The position as it would have been without the excursions. */
function withoutExcursions(position: Samples, excursions: readonly RateExcursion[]): Samples {
  if (excursions.length === 0) return position;
  const values = position.values.slice();
  for (const { shape } of excursions) {
    for (let i = lowerBound(position.tS, shape.atS); i < values.length; i++) {
      const wayM = excursionWayM(shape, position.tS[i] ?? shape.atS);
      values[i] = (values[i] ?? Number.NaN) - wayM;
    }
  }
  return { ...position, values };
}

/** The position as it would have been without the ramps. */
function withoutRamps(position: Samples, ramps: readonly RateRamp[]): Samples {
  if (ramps.length === 0) return position;
  const values = position.values.slice();
  for (const ramp of ramps) {
    for (let i = lowerBound(position.tS, ramp.atS); i < values.length; i++) {
      values[i] = (values[i] ?? Number.NaN) - rampAddedM(ramp, position.tS[i] ?? ramp.atS);
    }
  }
  return { ...position, values };
}

/** Puts the ramps' rates back. */
function addRamps(line: Smoothed, ramps: readonly RateRamp[], tS: Float64Array): void {
  for (const ramp of ramps) {
    for (let row = lowerBound(tS, ramp.atS); row < tS.length; row++) {
      const rateMps = rampRateMps(ramp, tS[row] ?? ramp.atS);
      line.slope[row] = (line.slope[row] ?? Number.NaN) + rateMps;
    }
  }
}

/** Round ramps rate and position are known as well as they are. */
function widenAtRamps(
  line: Smoothed,
  clusters: readonly RampCluster[],
  tS: Float64Array,
  position: Samples,
): void {
  for (const cluster of clusters) {
    const errors = clusterErrors(cluster);
    const last = position.sd.length - 1;
    let near = Math.min(last, lowerBound(position.tS, cluster.fromS));
    for (let row = lowerBound(tS, cluster.fromS); row < tS.length; row++) {
      const atS = tS[row] ?? Number.NaN;
      if (!(atS <= cluster.toS)) break;
      line.slopeSd[row] = Math.max(line.slopeSd[row] ?? 0, errors.rateSdMps(atS));
      // One sample by itself tells the position at least as well as its noise.
      while (near < last && (position.tS[near] ?? atS) < atS) near++;
      const oneSdM = position.slowSd?.[near] ?? position.sd[near] ?? 0;
      const levelSdM = Math.min(errors.levelSdM(atS), oneSdM);
      line.sd[row] = Math.max(line.sd[row] ?? 0, levelSdM);
    }
  }
}

/** Puts the excursions' rates back, with their uncertainty. */
function addExcursions(
  line: Smoothed,
  excursions: readonly RateExcursion[],
  tS: Float64Array,
): void {
  for (const excursion of excursions) {
    const { shape, fromS, stepS, sdMps } = excursion;
    const toS = fromS + stepS * sdMps.length;
    for (let row = lowerBound(tS, fromS); row < tS.length && (tS[row] ?? toS) < toS; row++) {
      const atS = tS[row] ?? fromS;
      line.slope[row] = (line.slope[row] ?? Number.NaN) + excursionRateMps(shape, atS);
      line.slopeSd[row] = Math.hypot(
        line.slopeSd[row] ?? Number.NaN,
        excursionSdMps(excursion, atS),
      );
    }
  }
}
