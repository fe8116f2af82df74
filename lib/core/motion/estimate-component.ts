/** One component of position and velocity at each row. */
import { meanNoiseSd, type Samples } from '../series/samples';
import { type Smoothed, smoothSamples } from '../series/smooth';
import { deriveVelocity } from './derive-velocity';
import {
  type ComponentStretch,
  likeliestWander,
  type PositionEstimate,
  positionAlong,
  travelled,
} from './level-offset';
import type { MeasuredMotion } from './measured-motion';
import type { MovedStep, RowSpan } from './motion-estimate';
import type { AxisSamples } from './part-noise';
import { findPositionSteps } from './position-steps';
import { gapOf, knownSpans } from './row-spans';

/** Half the span of the velocity fit, s: the contract's "about 2 s". */
export const VELOCITY_HALF_SPAN_S = 1;
/** A change of level this many standard errors large is a jump, not noise. */
const JUMP_THRESHOLD = 6.5;

export type Component = Readonly<{
  positionM: Float64Array;
  positionSdM: Float64Array;
  velocityMps: Float64Array;
  velocitySdMps: Float64Array;
  steps: readonly Omit<MovedStep, 'axis'>[];
}>;

function smoothMeasured(velocity: Samples, motion: MeasuredMotion): Smoothed {
  return smoothSamples(velocity, motion.tS, {
    halfSpanS: VELOCITY_HALF_SPAN_S,
    gapS: gapOf(velocity, motion),
    jumpThreshold: JUMP_THRESHOLD,
  });
}

export function blank(n: number): Float64Array {
  return new Float64Array(n).fill(Number.NaN);
}

/**
 * Position samples laid back on the rows, NaN where the row has none; `sd` as white noise of a long mean,
 * `oneSd` of one sample by itself.
 */
function onRows(
  samples: Samples,
  tS: Float64Array,
): Readonly<Record<'value' | 'sd' | 'oneSd', Float64Array>> {
  if (samples.tS === tS && samples.slowSd === null && samples.correlation === 0) {
    return { value: samples.values.slice(), sd: samples.sd, oneSd: samples.sd };
  }
  const value = blank(tS.length);
  const sd = blank(tS.length);
  const oneSd = blank(tS.length);
  let row = 0;
  for (let k = 0; k < samples.tS.length; k++) {
    while (row < tS.length && tS[row] !== samples.tS[k]) row++;
    if (row === tS.length) break;
    value[row] = samples.values[k] ?? Number.NaN;
    sd[row] = meanNoiseSd(samples, k);
    oneSd[row] = Math.hypot(samples.sd[k] ?? Number.NaN, samples.slowSd?.[k] ?? 0);
  }
  return { value, sd, oneSd };
}

export function estimateComponent(
  motion: MeasuredMotion,
  spans: readonly RowSpan[],
  { name, position, velocity: measured }: AxisSamples,
): Component {
  const { tS } = motion;
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
  const steps = measured === null ? [] : moveSteps(samples, stretches, known, name, tS);
  const wander = likeliestWander(stretches, measured);
  const positionM = blank(tS.length);
  const positionSdM = blank(tS.length);
  stretches.forEach((stretch, index) => {
    const estimate: PositionEstimate = positionAlong(stretch, wander);
    const from = known[index]?.from ?? 0;
    positionM.set(estimate.positionM, from);
    positionSdM.set(estimate.sdM, from);
  });
  // Slow noise counted as white overstates what is known no better than by one sample.
  let oneSdM = Number.POSITIVE_INFINITY;
  for (let row = 0; row < tS.length; row++) {
    const here = samples.oneSd[row] ?? Number.NaN;
    if (!Number.isNaN(here)) oneSdM = here;
    positionSdM[row] = Math.min(positionSdM[row] ?? Number.NaN, oneSdM);
  }
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
): Component['steps'] {
  const moved: Omit<MovedStep, 'axis'>[] = [];
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
    for (const { row, sizeM, sizeSdM } of found) {
      const at = (spans[index]?.from ?? 0) + row;
      for (let i = 0; i < at; i++) samples.value[i] = (samples.value[i] ?? Number.NaN) + sizeM;
      moved.push({
        channel,
        beforeS: tS[at - 1] ?? Number.NaN,
        afterS: tS[at] ?? Number.NaN,
        sizeM,
        sizeSdM,
      });
    }
  });
  return moved;
}
