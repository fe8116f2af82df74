/** From measured position and velocity to the motion the results are about. */

import { lowerBound } from '../math/search';
import { meanVarianceFactor, type Samples, takeSamples } from '../series/samples';
import { type Smoothed, smoothSamples } from '../series/smooth';
import {
  type ComponentStretch,
  likeliestWander,
  type PositionEstimate,
  positionAlong,
  travelled,
} from './level-offset';
import type { MotionBasis, MotionEstimate, MovedStep, RowSpan } from './motion-estimate';
import { findPositionSteps } from './position-steps';
import {
  findRatePulses,
  pulseRateMps,
  pulseRateSdMps,
  pulseWayM,
  type RatePulse,
} from './rate-pulses';

/** A column and the rows of it not to use. */
export type MeasuredColumn = Readonly<{
  name: string;
  values: Float64Array;
  rejected: Uint8Array | null;
}>;

/** Measured components by quantity (`position.x`, `velocity.x`, `range`, `range_rate`). */
export type MeasuredMotion = Readonly<{
  /** Session time of the rows, s, strictly ascending. */
  tS: Float64Array;
  columns: ReadonlyMap<string, MeasuredColumn>;
  /** A longer step is a gap, s. */
  longestStepS: number;
  stepS: number;
  /** Rate under which the plan calls it a hold, m/s; sets how sharp a derived rate must be. */
  holdRateMps: number;
}>;

/** Half the span of the velocity fit, s: the contract's "about 2 s". */
const VELOCITY_HALF_SPAN_S = 1;
/** A change of level this many standard errors large is a jump, not noise. */
const JUMP_THRESHOLD = 6.5;
/**
 * A line slid over the corner between a hold and a ramp of acceleration a is off by 3/16 a x half
 * span at the corner, which moves the crossing of a threshold by 3/16 of the half span.
 */
const RAMP_SHIFT = 3 / 16;
/** Position errors hang together over about this long once smoothed with the travelled way, s. */
const POSITION_SPAN_S = 30;
const LONGEST_DERIVED_HALF_SPAN_S = 15;

type Component = Readonly<{
  positionM: Float64Array;
  positionSdM: Float64Array;
  velocityMps: Float64Array;
  velocitySdMps: Float64Array;
  steps: readonly MovedStep[];
  /** Half the span of a derived rate at each row, s; `null` where it is measured. */
  halfSpanS: Float64Array | null;
}>;

/** Rows between gaps. */
function stretchesOf(tS: Float64Array, longestStepS: number): readonly RowSpan[] {
  const spans: RowSpan[] = [];
  let from = 0;
  let previousS = Number.NEGATIVE_INFINITY;
  tS.forEach((atS, row) => {
    if (row > 0 && atS - previousS > longestStepS) {
      spans.push({ from, to: row });
      from = row;
    }
    previousS = atS;
  });
  if (tS.length > 0) spans.push({ from, to: tS.length });
  return spans;
}

function gapOf(samples: Samples, motion: MeasuredMotion): number {
  const own = Number.isNaN(samples.stepS) ? 0 : 5 * samples.stepS * 1.001;
  return Math.max(own, motion.longestStepS);
}

/**
 * Rate from position alone: a straight line slid over a span that grows with the noise, so that the
 * rate's standard error is a fifth of the plan's hold rate (between 1 s and 15 s to either side).
 * Pulses that such a span would flatten are found and taken out first, and put back afterwards.
 */
function deriveVelocity(
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

function smoothMeasured(velocity: Samples, motion: MeasuredMotion): Smoothed {
  return smoothSamples(velocity, motion.tS, {
    halfSpanS: VELOCITY_HALF_SPAN_S,
    gapS: gapOf(velocity, motion),
    jumpThreshold: JUMP_THRESHOLD,
  });
}

function blank(n: number): Float64Array {
  return new Float64Array(n).fill(Number.NaN);
}

/** Rows of one stretch for which the velocity is known throughout, in turn. */
function knownSpans(velocityMps: Float64Array, span: RowSpan): readonly RowSpan[] {
  const spans: RowSpan[] = [];
  let from = -1;
  for (let row = span.from; row <= span.to; row++) {
    const known = row < span.to && !Number.isNaN(velocityMps[row]);
    if (known && from < 0) from = row;
    if (!known && from >= 0) {
      spans.push({ from, to: row });
      from = -1;
    }
  }
  return spans;
}

/** Position samples laid back on the rows, NaN where the row has none. */
function onRows(samples: Samples, tS: Float64Array): { value: Float64Array; sd: Float64Array } {
  const value = blank(tS.length);
  const sd = blank(tS.length);
  const raise = Math.sqrt(meanVarianceFactor(samples.correlation));
  let row = 0;
  for (let k = 0; k < samples.tS.length; k++) {
    while (row < tS.length && tS[row] !== samples.tS[k]) row++;
    if (row === tS.length) break;
    value[row] = samples.values[k] ?? Number.NaN;
    sd[row] = (samples.sd[k] ?? Number.NaN) * raise;
  }
  return { value, sd };
}

function estimateComponent(
  motion: MeasuredMotion,
  spans: readonly RowSpan[],
  positionColumn: MeasuredColumn,
  velocityColumn: MeasuredColumn | undefined,
): Component {
  const { tS } = motion;
  const position = takeSamples(tS, positionColumn.values, positionColumn.rejected);
  const measured =
    velocityColumn === undefined
      ? null
      : takeSamples(tS, velocityColumn.values, velocityColumn.rejected);
  const derived = measured === null ? deriveVelocity(position, motion) : null;
  const velocity = derived ?? smoothMeasured(measured ?? position, motion);
  const samples = onRows(position, tS);
  const known = spans.flatMap((span) => knownSpans(velocity.value, span));
  const stretches: readonly ComponentStretch[] = known.map((span) => ({
    tS: tS.subarray(span.from, span.to),
    positionM: samples.value.subarray(span.from, span.to),
    positionSdM: samples.sd.subarray(span.from, span.to),
    velocityMps: velocity.value.subarray(span.from, span.to),
  }));
  const steps =
    measured === null ? [] : moveSteps(samples, stretches, known, positionColumn.name, tS);
  const wander = likeliestWander(stretches, measured);
  const positionM = blank(tS.length);
  const positionSdM = blank(tS.length);
  stretches.forEach((stretch, index) => {
    const estimate: PositionEstimate = positionAlong(stretch, wander);
    const from = known[index]?.from ?? 0;
    positionM.set(estimate.positionM, from);
    positionSdM.set(estimate.sdM, from);
  });
  if (derived !== null) {
    // The travelled way is itself made of these samples: its own error counts as well.
    for (let row = 0; row < tS.length; row++) {
      const level = derived.levelSdM[row] ?? 0;
      positionSdM[row] = Math.sqrt((positionSdM[row] ?? 0) ** 2 + 1.2 * level * level);
    }
  }
  return {
    positionM,
    positionSdM,
    velocityMps: velocity.value,
    velocitySdMps: velocity.sd,
    steps,
    halfSpanS: derived === null ? null : derived.halfSpanS,
  };
}

/**
 * Finds steps in the position that the velocity does not carry, and moves the samples before each
 * onto those after it.
 */
function moveSteps(
  samples: Readonly<{ value: Float64Array }>,
  stretches: readonly ComponentStretch[],
  spans: readonly RowSpan[],
  channel: string,
  tS: Float64Array,
): readonly MovedStep[] {
  const moved: MovedStep[] = [];
  stretches.forEach((stretch, index) => {
    const wayM = travelled(stretch);
    for (let i = 0; i < wayM.length; i++) {
      wayM[i] = (stretch.positionM[i] ?? Number.NaN) - (wayM[i] ?? Number.NaN);
    }
    const found = findPositionSteps({
      tS: stretch.tS,
      offsetM: wayM,
      sdM: stretch.positionSdM,
      velocityMps: stretch.velocityMps,
    });
    for (const { row, sizeM } of found) {
      const at = (spans[index]?.from ?? 0) + row;
      for (let i = 0; i < at; i++) samples.value[i] = (samples.value[i] ?? Number.NaN) + sizeM;
      moved.push({
        channel,
        beforeS: tS[at - 1] ?? Number.NaN,
        afterS: tS[at] ?? Number.NaN,
        sizeM,
      });
    }
  });
  return moved;
}

type Combined = Omit<
  MotionEstimate,
  | 'tS'
  | 'stretches'
  | 'basis'
  | 'channels'
  | 'positionMethod'
  | 'rateMethod'
  | 'stepS'
  | 'rateSpanS'
  | 'positionSpanS'
  | 'steps'
  | 'edgeShiftS'
>;

function combine(x: Component, y: Component, z: Component): Combined {
  const n = x.positionM.length;
  const out = {
    rangeM: blank(n),
    rangeSdM: blank(n),
    closingMps: blank(n),
    closingSdMps: blank(n),
    axialM: x.positionM,
    axialSdM: x.positionSdM,
    axialClosingMps: x.velocityMps.map((mps) => -mps),
    axialClosingSdMps: x.velocitySdMps,
    lateralM: blank(n),
    lateralSdM: blank(n),
    crossMps: blank(n),
    yM: y.positionM,
    zM: z.positionM,
  };
  const parts = [x, y, z];
  for (let row = 0; row < n; row++) {
    let squareM2 = 0;
    let productM2ps = 0;
    let speedSquare = 0;
    for (const part of parts) {
      const p = part.positionM[row] ?? Number.NaN;
      const v = part.velocityMps[row] ?? Number.NaN;
      squareM2 += p * p;
      productM2ps += p * v;
      speedSquare += v * v;
    }
    const rangeM = Math.sqrt(squareM2);
    const rateMps = productM2ps / rangeM;
    let rangeVar = 0;
    let rateVar = 0;
    for (const part of parts) {
      const along = (part.positionM[row] ?? Number.NaN) / rangeM;
      const across = ((part.velocityMps[row] ?? Number.NaN) - rateMps * along) / rangeM;
      const pSd = part.positionSdM[row] ?? Number.NaN;
      const vSd = part.velocitySdMps[row] ?? Number.NaN;
      rangeVar += along * along * pSd * pSd;
      rateVar += along * along * vSd * vSd + across * across * pSd * pSd;
    }
    const py = y.positionM[row] ?? Number.NaN;
    const pz = z.positionM[row] ?? Number.NaN;
    const sy = y.positionSdM[row] ?? Number.NaN;
    const sz = z.positionSdM[row] ?? Number.NaN;
    const lateralM = Math.sqrt(py * py + pz * pz);
    out.rangeM[row] = rangeM;
    out.rangeSdM[row] = Math.sqrt(rangeVar);
    out.closingMps[row] = -rateMps;
    out.closingSdMps[row] = Math.sqrt(rateVar);
    out.lateralM[row] = lateralM;
    out.lateralSdM[row] =
      lateralM > 0
        ? Math.sqrt(py * py * sy * sy + pz * pz * sz * sz) / lateralM
        : Math.sqrt((sy * sy + sz * sz) / 2);
    out.crossMps[row] = Math.sqrt(Math.max(0, speedSquare - rateMps * rateMps));
  }
  return out;
}

function combineRange(range: Component): Combined {
  const n = range.positionM.length;
  const none = blank(n);
  return {
    rangeM: range.positionM,
    rangeSdM: range.positionSdM,
    closingMps: range.velocityMps.map((mps) => -mps),
    closingSdMps: range.velocitySdMps,
    axialM: none,
    axialSdM: none,
    axialClosingMps: none,
    axialClosingSdMps: none,
    lateralM: none,
    lateralSdM: none,
    crossMps: none,
    yM: none,
    zM: none,
  };
}

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
