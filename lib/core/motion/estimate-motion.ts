/** From measured position and velocity to the motion the results are about. */

import { type Combined, combine, combineRange } from './combine-components';
import { LONGEST_DERIVED_HALF_SPAN_S } from './derive-velocity';
import { type Component, estimateComponent, VELOCITY_HALF_SPAN_S } from './estimate-component';
import type { MeasuredColumn, MeasuredMotion } from './measured-motion';
import type { MotionBasis, MotionEstimate, MovedStep } from './motion-estimate';
import { stretchesOf } from './row-spans';

/**
 * A line slid over the corner between a hold and a ramp of acceleration a is off by 3/16 a x half
 * span at the corner, which moves the crossing of a threshold by 3/16 of the half span.
 */
const RAMP_SHIFT = 3 / 16;
/** Position errors hang together over about this long once smoothed with the travelled way, s. */
const POSITION_SPAN_S = 30;

const POSITION_METHOD =
  'Each component is the integral of its velocity plus an offset that wanders slowly, smoothed over all position samples between gaps (random walk, Rauch-Tung-Striebel); range and lateral offset are formed from the components afterwards.';
const MEASURED_RATE_METHOD =
  'Minus the measured velocity along the line of sight, each component by straight lines over 2 s that do not run across a jump or a gap.';
const DERIVED_RATE_METHOD =
  'Minus the slope of straight lines slid over the measured position, over a span that grows with its noise (2 s to 30 s); pulses that the span would flatten are fitted by themselves.';

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
  const axes = ['x', 'y', 'z'].map((axis) => ({
    position: columns.get(`position.${axis}`),
    velocity: columns.get(`velocity.${axis}`),
  }));
  const stretches = stretchesOf(tS, motion.longestStepS);
  const used: string[] = [];
  const steps: MovedStep[] = [];
  let halfSpanS: Float64Array | null = null;
  const component = (position: MeasuredColumn, velocity: MeasuredColumn | undefined): Component => {
    used.push(position.name);
    if (velocity !== undefined) used.push(velocity.name);
    const estimated = estimateComponent(motion, stretches, position, velocity);
    steps.push(...estimated.steps);
    if (halfSpanS === null) halfSpanS = estimated.halfSpanS;
    return estimated;
  };
  const finish = (combined: Combined, basis: MotionBasis): MotionEstimate => {
    const measured = basis === 'measured-velocity' || basis === 'range-and-rate';
    return {
      tS,
      ...combined,
      stretches,
      basis,
      channels: used,
      positionMethod: POSITION_METHOD,
      rateMethod: measured ? MEASURED_RATE_METHOD : DERIVED_RATE_METHOD,
      stepS: motion.stepS,
      positionSpanS: POSITION_SPAN_S,
      steps,
      edgeShiftS: halfSpanS === null ? null : halfSpanS.map((half) => RAMP_SHIFT * half),
      rateSpanS: measured ? 2 * VELOCITY_HALF_SPAN_S : LONGEST_DERIVED_HALF_SPAN_S,
    };
  };
  const [x, y, z] = axes;
  if (x?.position !== undefined && y?.position !== undefined && z?.position !== undefined) {
    const complete = axes.every((axis) => axis.velocity !== undefined);
    const combined = combine(
      component(x.position, x.velocity),
      component(y.position, y.velocity),
      component(z.position, z.velocity),
    );
    return finish(combined, complete ? 'measured-velocity' : 'position-only');
  }
  const range = columns.get('range');
  if (range === undefined) return null;
  const rate = columns.get('range_rate');
  const combined = combineRange(component(range, rate));
  return finish(combined, rate === undefined ? 'range-only' : 'range-and-rate');
}
