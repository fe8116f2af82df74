/** From measured position and velocity to the motion the results are about. */

import { lowerBound } from '../math/search';
import type { Samples } from '../series/samples';
import { type Combined, combine, combineRange } from './combine-components';
import { LONGEST_DERIVED_HALF_SPAN_S } from './derive-velocity';
import { type Component, estimateComponent, VELOCITY_HALF_SPAN_S } from './estimate-component';
import type { MeasuredMotion } from './measured-motion';
import type { MotionBasis, MotionEstimate, MovedStep } from './motion-estimate';
import { type MeasuredAxis, partNoise } from './part-noise';
import { coursesEndS, type RateCourses, timesCourses } from './rate-courses';
import type { RowSpan } from './row-span';
import { stretchesOf } from './row-spans';
import { withStepErrors } from './step-error';
import { unseenRates } from './unseen-rates';

const AXES = ['x', 'y', 'z'] as const;

/** Position errors hang together over about this long once smoothed with the travelled way, s. */
const POSITION_SPAN_S = 30;

/** How errors of rates hang together: over how long as a mean sees it, s, and how fast they part, 1/s. */
type Together = Readonly<{ spanS: number; partingPerS: number }>;

/**
 * Of a measured rate once smoothed: the span of the lines, or twice the time constant of slow noise, by
 * their shares of the variance. Means over a span part by 1 over it, slow noise by 1 over its time constant.
 */
function measuredTogether(velocity: Samples | undefined): Together {
  // Rows to either side and the middle one: a mean of n rows hangs together over n of them.
  const linesS = 2 * VELOCITY_HALF_SPAN_S + (velocity?.stepS ?? 0);
  const lines = { spanS: linesS, partingPerS: 1 / linesS };
  if (velocity === undefined || velocity.slowSd === null) return lines;
  const middle = velocity.sd.length >> 1;
  const quick = (velocity.sd[middle] ?? 0) ** 2 * Math.min(1, velocity.stepS / linesS);
  const slow = (velocity.slowSd[middle] ?? 0) ** 2;
  if (!(slow > 0)) return lines;
  const share = slow / (slow + quick);
  return {
    spanS: (1 - share) * linesS + share * Math.max(linesS, 2 * velocity.slowS),
    partingPerS: (1 - share) / linesS + share / Math.max(linesS, velocity.slowS),
  };
}

/** Of slopes of lines over a span: their weights rise in a straight line, which parts them by 3 over it. */
const DERIVED_TOGETHER: Together = {
  spanS: LONGEST_DERIVED_HALF_SPAN_S,
  partingPerS: 3 / (2 * LONGEST_DERIVED_HALF_SPAN_S),
};

function stretchOf(courses: RateCourses): Readonly<{ fromS: number; toS: number }> {
  return { fromS: courses.fromS, toS: coursesEndS(courses) + courses.stepS };
}

/** Courses of the first component as those of the closing rate: less, by its share in the range. */
function closingCourses(
  tS: Float64Array,
  { rangeM, axialM }: Combined,
  courses: RateCourses,
): RateCourses {
  const row = Math.min(tS.length - 1, lowerBound(tS, courses.fromS));
  const share = (axialM[row] ?? Number.NaN) / (rangeM[row] ?? Number.NaN);
  return timesCourses(courses, Number.isNaN(share) ? -1 : -share);
}

/** Slow noise is not averaged away: its errors hang together for twice its time constant more. */
function positionSpanS(position: Samples | undefined): number {
  return POSITION_SPAN_S + (position?.slowSd ? 2 * position.slowS : 0);
}

const POSITION_METHOD =
  'Each component is the integral of its velocity plus an offset that wanders slowly, smoothed over all position samples between gaps (random walk, Rauch-Tung-Striebel); range and lateral offset are formed from the components afterwards.';
const MEASURED_RATE_METHOD =
  'Minus the measured velocity along the line of sight, each component by straight lines over 2 s that do not run across a jump or a gap.';
const DERIVED_RATE_METHOD =
  'Minus the slope of straight lines slid over the measured position, over a span that grows with its noise (2 s to 60 s); excursions that the span would flatten are fitted by themselves, each shape that explains them with its weight.';
const CLEAR_RATE_METHOD =
  'Minus the slope of straight lines slid over the measured position, whose noise is so small that a few rows tell the rate (over 2 s, or four steps from row to row, at most).';

/** Components in the order measured, with the names and samples of their columns and the steps moved. */
type Components = Readonly<{
  all: readonly Component[];
  used: readonly string[];
  samples: ReadonlyMap<string, Samples>;
  steps: readonly MovedStep[];
}>;

function componentsOf(
  motion: MeasuredMotion,
  stretches: readonly RowSpan[],
  measured: readonly MeasuredAxis[],
): Components {
  const used: string[] = [];
  const steps: MovedStep[] = [];
  const samples = new Map<string, Samples>();
  const all = partNoise(motion.tS, measured).map((axis, index) => {
    samples.set(axis.name, axis.position);
    used.push(axis.name);
    const velocity = measured[index]?.velocity;
    if (velocity !== undefined && axis.velocity !== null) {
      samples.set(velocity.name, axis.velocity);
      used.push(velocity.name);
    }
    const estimated = estimateComponent(motion, stretches, axis);
    const along: MovedStep['axis'] = measured.length === 1 ? 'range' : (AXES[index] ?? 'x');
    steps.push(...estimated.steps.map((step) => ({ ...step, axis: along })));
    return estimated;
  });
  return { all, used, samples, steps };
}

const isMeasured = (basis: MotionBasis): boolean =>
  basis === 'measured-velocity' || basis === 'range-and-rate';

/** How errors of the rates hang together: as measured, or as the lines that they come from. */
function togetherOf(
  velocity: Samples | undefined,
  basis: MotionBasis,
  linesS: number | null,
): Together {
  if (isMeasured(basis)) return measuredTogether(velocity);
  return linesS === null ? DERIVED_TOGETHER : { spanS: linesS, partingPerS: 3 / linesS };
}

/** The motion that combined components make; what is said of its rate is that of the first of them. */
function motionOf(
  motion: MeasuredMotion,
  stretches: readonly RowSpan[],
  { all, used, samples, steps }: Components,
  combined: Combined,
  basis: MotionBasis,
): MotionEstimate {
  const { tS } = motion;
  const { excursions: seen = [], linesS = null, between = null } = all[0] ?? {};
  const position = samples.get(used[0] ?? '');
  const together = togetherOf(samples.get(used[1] ?? ''), basis, linesS);
  const unseen = linesS === null ? unseenRates(position, motion, seen.map(stretchOf)) : null;
  const derivedMethod = linesS === null ? DERIVED_RATE_METHOD : CLEAR_RATE_METHOD;
  return withStepErrors({
    tS,
    ...combined,
    stretches,
    basis,
    channels: used,
    positionMethod: POSITION_METHOD,
    rateMethod: isMeasured(basis) ? MEASURED_RATE_METHOD : derivedMethod,
    stepS: motion.stepS,
    positionSpanS: positionSpanS(position),
    samples,
    steps,
    rateIsDerived: !isMeasured(basis),
    rateLinesS: linesS,
    unseenMps2: linesS === null ? motion.accelerationMps2 : null,
    unseenMps: unseen?.slopedMps ?? null,
    unseenJumpMps: unseen?.jumpMps ?? null,
    rateCourses: seen.map((courses) => closingCourses(tS, combined, courses)),
    rateSpanS: together.spanS,
    between,
    ratePartingPerS: together.partingPerS,
  });
}

/**
 * Estimates the motion at each row that has a kinematic value.
 *
 * @param motion the measured columns; position in three components, or a range
 * @returns the estimate; `null` when neither three position components nor a range are there
 *
 * Valid: velocity is the rate of the position in the same axes (a velocity in inertial axes gives
 * the same range rate, but makes the position lean on its own samples only).
 */
export function estimateMotion(motion: MeasuredMotion): MotionEstimate | null {
  const { columns, tS } = motion;
  const stretches = stretchesOf(tS, motion.longestStepS);
  const [x, y, z] = AXES.map((axis) => columns.get(`position.${axis}`));
  if (x !== undefined && y !== undefined && z !== undefined) {
    const velocities = AXES.map((axis) => columns.get(`velocity.${axis}`));
    const complete = velocities.every((velocity) => velocity !== undefined);
    const measured = [x, y, z].map((position, axis) => ({ position, velocity: velocities[axis] }));
    const components = componentsOf(motion, stretches, measured);
    const [first, second, third] = components.all;
    if (first === undefined || second === undefined || third === undefined) return null;
    const basis = complete ? 'measured-velocity' : 'position-only';
    return motionOf(motion, stretches, components, combine(first, second, third), basis);
  }
  const range = columns.get('range');
  if (range === undefined) return null;
  const rate = columns.get('range_rate');
  const components = componentsOf(motion, stretches, [{ position: range, velocity: rate }]);
  const [along] = components.all;
  if (along === undefined) return null;
  const basis = rate === undefined ? 'range-only' : 'range-and-rate';
  return motionOf(motion, stretches, components, combineRange(along), basis);
}
