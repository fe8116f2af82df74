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
  const axes = AXES.map((axis) => ({
    position: columns.get(`position.${axis}`),
    velocity: columns.get(`velocity.${axis}`),
  }));
  const stretches = stretchesOf(tS, motion.longestStepS);
  const used: string[] = [];
  const steps: MovedStep[] = [];
  let seen: Component['excursions'] = [];
  let linesS: number | null = null;
  let between: Component['between'] = null;
  const samples = new Map<string, Samples>();
  const components = (measured: readonly MeasuredAxis[]): readonly Component[] =>
    partNoise(tS, measured).map((axis, index) => {
      samples.set(axis.name, axis.position);
      used.push(axis.name);
      const velocity = measured[index]?.velocity;
      if (velocity !== undefined && axis.velocity !== null) {
        samples.set(velocity.name, axis.velocity);
        used.push(velocity.name);
      }
      const estimated = estimateComponent(motion, stretches, axis);
      if (index === 0) ({ excursions: seen, linesS, between } = estimated);
      const along: MovedStep['axis'] = measured.length === 1 ? 'range' : (AXES[index] ?? 'x');
      steps.push(...estimated.steps.map((step) => ({ ...step, axis: along })));
      return estimated;
    });
  const finish = (combined: Combined, basis: MotionBasis): MotionEstimate => {
    const measured = basis === 'measured-velocity' || basis === 'range-and-rate';
    const together = measured
      ? measuredTogether(samples.get(used[1] ?? ''))
      : linesS === null
        ? DERIVED_TOGETHER
        : { spanS: linesS, partingPerS: 3 / linesS };
    const unseen =
      linesS === null ? unseenRates(samples.get(used[0] ?? ''), motion, seen.map(stretchOf)) : null;
    return withStepErrors({
      tS,
      ...combined,
      stretches,
      basis,
      channels: used,
      positionMethod: POSITION_METHOD,
      rateMethod: measured
        ? MEASURED_RATE_METHOD
        : linesS === null
          ? DERIVED_RATE_METHOD
          : CLEAR_RATE_METHOD,
      stepS: motion.stepS,
      positionSpanS: positionSpanS(samples.get(used[0] ?? '')),
      samples,
      steps,
      rateIsDerived: !measured,
      rateLinesS: linesS,
      unseenMps2: linesS === null ? motion.accelerationMps2 : null,
      unseenMps: unseen?.slopedMps ?? null,
      unseenJumpMps: unseen?.jumpMps ?? null,
      rateCourses: seen.map((courses) => closingCourses(tS, combined, courses)),
      rateSpanS: together.spanS,
      between,
      ratePartingPerS: together.partingPerS,
    });
  };
  const [x, y, z] = axes;
  if (x?.position !== undefined && y?.position !== undefined && z?.position !== undefined) {
    const complete = axes.every((axis) => axis.velocity !== undefined);
    const [first, second, third] = components([
      { position: x.position, velocity: x.velocity },
      { position: y.position, velocity: y.velocity },
      { position: z.position, velocity: z.velocity },
    ]);
    if (first === undefined || second === undefined || third === undefined) return null;
    return finish(combine(first, second, third), complete ? 'measured-velocity' : 'position-only');
  }
  const range = columns.get('range');
  if (range === undefined) return null;
  const rate = columns.get('range_rate');
  const [along] = components([{ position: range, velocity: rate }]);
  if (along === undefined) return null;
  return finish(combineRange(along), rate === undefined ? 'range-only' : 'range-and-rate');
}
