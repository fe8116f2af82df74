/** Velocity from position alone. */
import { lowerBound } from '../math/search';
import { meanNoiseSd, type Samples } from '../series/samples';
import { type Smoothed, smoothSamples } from '../series/smooth';
import { widenBesideRamps } from './beside-ramps';
import type { BetweenRamps } from './between-ramps';
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
    /** Longest span of the lines where nothing beside them was fitted, s; else `null`. */
    linesS: number | null;
    excursions: readonly RateCourses[];
    /** What ramps and excursions leave of the position; `null` where nothing was fitted. */
    between: BetweenRamps | null;
  }>;

/** Lines over so long to either side show a change of rate nearly as it is, s. */
const SHARP_HALF_SPAN_S = 1;
/** Of the plan's hold rate: how well a line should tell the rate, and how well where noise is hardly seen. */
const WANTED_SHARE = 1 / 5;
const CLEAR_SHARE = 1 / 50;

/** Half the span of the lines at each row, s; `isClear` where short ones tell the rate so well that nothing has to be fitted. */
type HalfSpans = Readonly<{ halfSpanS: Float64Array; isClear: boolean }>;

/** So that the rate's standard error is a fifth of the hold rate; where noise is hardly seen, a fiftieth in two rows or more. */
function halfSpans(position: Samples, { tS, holdRateMps }: MeasuredMotion): HalfSpans {
  const { stepS } = position;
  const spansFor = (share: number, leastS: number): Float64Array => {
    const longestS = Math.max(LONGEST_DERIVED_HALF_SPAN_S, leastS);
    let near = 0;
    return tS.map((atS) => {
      while (near + 1 < position.tS.length && (position.tS[near + 1] ?? atS) <= atS) near++;
      const perRate = meanNoiseSd(position, near) / (share * holdRateMps);
      return Math.min(longestS, Math.max(leastS, Math.cbrt(1.5 * stepS * perRate * perRate)));
    });
  };
  const sharpS = Math.max(SHARP_HALF_SPAN_S, 2 * stepS);
  const clear = spansFor(CLEAR_SHARE, stepS);
  if (clear.every((halfS) => halfS <= sharpS)) return { halfSpanS: clear, isClear: true };
  return { halfSpanS: spansFor(WANTED_SHARE, sharpS), isClear: false };
}

/**
 * Rate from position alone: a straight line slid over a span that grows with the noise, so that the
 * rate's standard error is a fifth of the plan's hold rate (between 1 s and 30 s to either side).
 * Excursions and ramps that such a span would flatten are found and taken out first, and put back afterwards. Positions
 * with hardly any noise need neither: lines over a few rows show all of it.
 */
export function deriveVelocity(position: Samples, motion: MeasuredMotion): DerivedVelocity {
  const { halfSpanS, isClear } = halfSpans(position, motion);
  const gapS = gapOf(position, motion);
  const lines = { halfSpanS, gapS, jumpThreshold: Number.POSITIVE_INFINITY };
  const rates = (
    line: Smoothed,
    excursions: readonly RateCourses[],
    between: BetweenRamps | null,
  ): DerivedVelocity => {
    const { slope, slopeSd, sd } = line;
    const linesS = isClear ? 2 * halfSpanS.reduce((a, b) => Math.max(a, b), 0) : null;
    return {
      ...line,
      value: slope,
      sd: slopeSd,
      levelSdM: sd,
      halfSpanS,
      linesS,
      excursions,
      between,
    };
  };
  if (isClear) return rates(smoothSamples(position, motion.tS, lines), [], null);
  const spans = stretchesOf(position.tS, gapS);
  const excursions = findRateExcursions(position, spans, motion.holdRateMps);
  const calm = withoutExcursions(position, excursions);
  const found = spans.map((span) => findRateRamps(calm, span));
  const clusters = found.flatMap(rampClusters);
  const ramps = clusters.flatMap((cluster) => cluster.ramps);
  const straight = withoutRamps(calm, ramps);
  const line = smoothSamples(straight, motion.tS, lines);
  const between = {
    position: straight,
    spans,
    clusters,
    slopeMps: line.slope.slice(),
  };
  addRamps(line, ramps, motion.tS);
  widenBesideRamps(line, clusters, spans, { position, tS: motion.tS, halfSpanS });
  widenAtRamps(line, clusters, motion.tS, position);
  const courses = excursions.map(({ shape, courses: own }) => {
    const row = Math.min(motion.tS.length - 1, lowerBound(motion.tS, shape.atS));
    return withCommonError(own, line.slopeSd[row] ?? Number.NaN);
  });
  addExcursions(line, excursions, motion.tS);
  return rates(line, courses, between);
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
