/** One component of position and velocity at each row. */
import { lowerBound } from '../math/search';
import { meanNoiseSd, meanVarianceFactor, type Samples } from '../series/samples';
import { type Smoothed, smoothBends } from '../series/smooth';
import type { BetweenRamps } from './between-ramps';
import { deriveVelocity } from './derive-velocity';
import {
  addWay,
  type ComponentStretch,
  likeliestWander,
  positionAlong,
  type SlowParts,
} from './level-offset';
import type { MeasuredMotion } from './measured-motion';
import type { MovedStep } from './motion-estimate';
import type { AxisSamples } from './part-noise';
import { findPositionSteps } from './position-steps';
import type { RateCourses } from './rate-courses';
import type { RowSpan } from './row-span';
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
  /** Half the span of the lines that a derived rate is the slope of, s; `null` of a measured one. */
  halfSpanS: Float64Array | null;
  steps: readonly Omit<MovedStep, 'axis'>[];
  /** Span of the lines, s, of a rate that they show nearly as it is; `null` of one that noisy positions tell. */
  linesS: number | null;
  /** Courses where an excursion of a derived rate stood out of the noise; empty of a measured one. */
  excursions: readonly RateCourses[];
  /** What ramps and excursions leave of the position; `null` where the rate is measured, or clean positions tell it. */
  between: BetweenRamps | null;
}>;

/** A velocity at each row with its standard deviation. */
type VelocityRows = Pick<Smoothed, 'value' | 'sd'>;

function smoothMeasured(velocity: Samples, motion: MeasuredMotion): VelocityRows {
  return smoothBends(velocity, motion.tS, {
    halfSpanS: VELOCITY_HALF_SPAN_S,
    gapS: gapOf(velocity, motion),
    jumpThreshold: JUMP_THRESHOLD,
  });
}

export function blank(n: number): Float64Array {
  return new Float64Array(n).fill(Number.NaN);
}

/** Position samples laid back on the rows, NaN where the row has none. */
type OnRows = Readonly<{
  value: Float64Array;
  /** Noise as white noise of a long mean, of one sample by itself, and in its two parts. */
  sd: Float64Array;
  oneSd: Float64Array;
  quickSd: Float64Array;
  slowSd: Float64Array | null;
}>;

/** `onRows` where each row has a sample: as many columns as possible are those of the samples. */
function onEachRow(samples: Samples): OnRows {
  const { values: value, sd: quick, slowSd, correlation } = samples;
  const isWhite = correlation === 0 && slowSd === null;
  const sd = isWhite ? quick : quick.map((_, k) => meanNoiseSd(samples, k));
  if (slowSd === null) return { value, sd, oneSd: quick, quickSd: sd, slowSd };
  const oneSd = quick.map((one, k) => Math.hypot(one, slowSd[k] ?? 0));
  return { value, sd, oneSd, quickSd: quick, slowSd };
}

function onRows(samples: Samples, tS: Float64Array): OnRows {
  // What has a slow part has no correlation beside it.
  if (samples.tS === tS && (samples.slowSd === null || samples.correlation === 0)) {
    return onEachRow(samples);
  }
  const value = blank(tS.length);
  const sd = blank(tS.length);
  const oneSd = blank(tS.length);
  const quickSd = blank(tS.length);
  const slowSd = samples.slowSd === null ? null : blank(tS.length);
  const raise = Math.sqrt(meanVarianceFactor(samples.correlation));
  let row = 0;
  for (let k = 0; k < samples.tS.length; k++) {
    while (row < tS.length && tS[row] !== samples.tS[k]) row++;
    if (row === tS.length) break;
    value[row] = samples.values[k] ?? Number.NaN;
    sd[row] = meanNoiseSd(samples, k);
    const quick = samples.sd[k] ?? Number.NaN;
    oneSd[row] = slowSd === null ? quick : Math.hypot(quick, samples.slowSd?.[k] ?? 0);
    quickSd[row] = raise * (samples.sd[k] ?? Number.NaN);
    if (slowSd !== null) slowSd[row] = samples.slowSd?.[k] ?? 0;
  }
  return { value, sd, oneSd, quickSd, slowSd };
}

/**
 * The velocity whose integral is the way: as measured, straight between updates, held at the ends. Lines
 * slid over it would carry the position ahead of every bend of the rate.
 */
function wayVelocity(measured: Samples, tS: Float64Array): Float64Array {
  if (measured.tS === tS) return measured.values;
  const out = new Float64Array(tS.length);
  const last = measured.tS.length - 1;
  let at = 0;
  for (let row = 0; row < tS.length; row++) {
    const whenS = tS[row] ?? 0;
    while (at < last && (measured.tS[at + 1] ?? whenS) <= whenS) at++;
    const lowS = measured.tS[at] ?? whenS;
    const low = measured.values[at] ?? Number.NaN;
    const highS = measured.tS[at + 1] ?? lowS;
    const share = whenS > lowS && highS > lowS ? (whenS - lowS) / (highS - lowS) : 0;
    out[row] = share === 0 ? low : low + share * ((measured.values[at + 1] ?? low) - low);
  }
  return out;
}

/** The parts of the noise where position or velocity has a slow one. */
function slowParts(samples: OnRows, position: Samples, measured: Samples | null): SlowParts | null {
  const driftSd = measured?.slowSd ?? null;
  if (measured === null || (samples.slowSd === null && driftSd === null)) return null;
  return {
    quickSdM: samples.quickSd,
    slowSdM: samples.slowSd ?? new Float64Array(samples.value.length),
    positionS: position.slowS,
    driftSdMps: driftSd?.[driftSd.length >> 1] ?? 0,
    driftS: measured.slowS,
  };
}

function partOf(slow: SlowParts | null, { from, to }: RowSpan): SlowParts | null {
  if (slow === null) return null;
  const [quickSdM, slowSdM] = [slow.quickSdM.subarray(from, to), slow.slowSdM.subarray(from, to)];
  return { ...slow, quickSdM, slowSdM };
}

/** Position less the way travelled in each stretch, on all rows; NaN between the stretches. */
function offsetsAlong(
  positionM: Float64Array,
  along: Readonly<{ tS: Float64Array; velocityMps: Float64Array }>,
  spans: readonly RowSpan[],
): Float64Array {
  const rows = positionM.length;
  const [first] = spans;
  const isWhole = first !== undefined && first.to - first.from === rows;
  const offsetM = isWhole ? positionM.slice() : blank(rows);
  for (const { from, to } of spans) {
    if (!isWhole) offsetM.set(positionM.subarray(from, to), from);
    const [tS, velocityMps] = [along.tS.subarray(from, to), along.velocityMps.subarray(from, to)];
    addWay({ tS, velocityMps }, -1, offsetM.subarray(from, to));
  }
  return offsetM;
}

export function estimateComponent(
  motion: MeasuredMotion,
  spans: readonly RowSpan[],
  { name, position, velocity: measured, offsetM: known }: AxisSamples,
): Component {
  const { tS } = motion;
  const derived = measured === null ? deriveVelocity(position, motion) : null;
  const velocity = derived ?? smoothMeasured(measured ?? position, motion);
  const samples = onRows(position, tS);
  const parts = spans.flatMap((span) => knownSpans(velocity.value, span));
  const velocityMps = measured === null ? velocity.value : wayVelocity(measured, tS);
  const along = { tS, velocityMps };
  const isOne = parts.length === 1 && parts[0]?.from === 0 && parts[0].to === tS.length;
  const positionM = (isOne ? known : null) ?? offsetsAlong(samples.value, along, parts);
  const slow = slowParts(samples, position, measured);
  const stretches: readonly ComponentStretch[] = parts.map((span) => ({
    tS: tS.subarray(span.from, span.to),
    offsetM: positionM.subarray(span.from, span.to),
    positionSdM: samples.sd.subarray(span.from, span.to),
    velocityMps: velocityMps.subarray(span.from, span.to),
    slow: partOf(slow, span),
  }));
  const steps =
    measured === null ? [] : findSteps(samples, stretches, parts, { name, tS, velocity, measured });
  if (steps.length > 0) {
    const movedM = movedBefore(samples.value, tS, steps);
    positionM.set(offsetsAlong(movedM, along, parts));
  }
  const wander = likeliestWander(stretches, measured);
  const positionSdM = isOne ? new Float64Array(tS.length) : blank(tS.length);
  stretches.forEach((stretch, index) => {
    const { from, to } = parts[index] ?? { from: 0, to: 0 };
    positionAlong(stretch, wander, positionSdM.subarray(from, to));
  });
  // Slow noise counted as white overstates what is known no better than by one sample.
  let oneSdM = Number.POSITIVE_INFINITY;
  for (let row = 0; row < tS.length; row++) {
    const here = samples.oneSd[row] ?? Number.NaN;
    if (!Number.isNaN(here)) oneSdM = here;
    positionSdM[row] = Math.min(positionSdM[row] ?? Number.NaN, oneSdM);
  }
  if (derived !== null) {
    for (let row = 0; row < tS.length; row++) {
      // The travelled way is itself made of these samples: its own error counts as well.
      const level = derived.levelSdM[row] ?? 0;
      positionSdM[row] = Math.sqrt((positionSdM[row] ?? 0) ** 2 + 1.2 * level * level);
      // A sample by itself tells a place and no rate.
      if (derived.sd[row] === Number.POSITIVE_INFINITY) {
        derived.value[row] = Number.NaN;
        derived.sd[row] = Number.NaN;
      }
    }
  }
  return {
    positionM,
    positionSdM,
    velocityMps: velocity.value,
    velocitySdMps: velocity.sd,
    halfSpanS: derived?.halfSpanS ?? null,
    linesS: derived === null ? 2 * VELOCITY_HALF_SPAN_S : derived.linesS,
    steps,
    excursions: derived?.excursions ?? [],
    between: derived?.between ?? null,
  };
}

type MovedBeside = Readonly<{
  name: string;
  tS: Float64Array;
  velocity: VelocityRows;
  measured: Samples;
}>;

/** Steps in the position that the velocity does not carry. */
function findSteps(
  samples: OnRows,
  stretches: readonly ComponentStretch[],
  spans: readonly RowSpan[],
  { name, tS, velocity, measured }: MovedBeside,
): Component['steps'] {
  const velocitySd = measured.sd[measured.sd.length >> 1] ?? 0;
  const walkM2PerS = velocitySd ** 2 * (Number.isNaN(measured.stepS) ? 0 : measured.stepS);
  return stretches.flatMap((stretch, index) => {
    const span = spans[index] ?? { from: 0, to: 0 };
    const found = findPositionSteps({
      tS: stretch.tS,
      offsetM: stretch.offsetM,
      sdM: samples.quickSd.subarray(span.from, span.to),
      walkM2PerS,
      velocityMps: velocity.value.subarray(span.from, span.to),
      asMeasuredMps: stretch.velocityMps,
      updateS: measured.tS === tS ? 0 : measured.stepS,
    });
    return found.map(({ row, sizeM, sizeSdM }) => ({
      channel: name,
      beforeS: tS[span.from + row - 1] ?? Number.NaN,
      afterS: tS[span.from + row] ?? Number.NaN,
      sizeM,
      sizeSdM,
    }));
  });
}

/** Samples with those before each step moved onto those after it. */
function movedBefore(
  samplesM: Float64Array,
  tS: Float64Array,
  steps: Component['steps'],
): Float64Array {
  const movedM = samplesM.slice();
  for (const { afterS, sizeM } of steps) {
    const at = lowerBound(tS, afterS);
    for (let i = 0; i < at; i++) movedM[i] = (movedM[i] ?? Number.NaN) + sizeM;
  }
  return movedM;
}
