/** Position estimated from its own samples and the integral of the velocity. */
import { type SlowOffset, slowOffsetMisfit, smoothSlowOffset } from '../math/offset-smoother';
import { randomWalkMisfit, smoothedLevel } from '../math/random-walk-smoother';
import type { Samples } from '../series/samples';

/** One component on the rows of a stretch without a gap. */
export type ComponentStretch = Readonly<{
  /** Times of the rows, s. */
  tS: Float64Array;
  /** Position samples at the rows, m; NaN = none. */
  positionM: Float64Array;
  /** Noise of each as that of white noise which a long mean would show, standard deviation, m. */
  positionSdM: Float64Array;
  /** Way travelled from the stretch's first row, m. */
  wayM: Float64Array;
  /** The slow noise of position and velocity, told apart; `null` where there is none. */
  slow: SlowParts | null;
}>;

/** Noise in its parts: of each position sample, and of the velocity whose way was taken. */
export type SlowParts = Readonly<{
  quickSdM: Float64Array;
  slowSdM: Float64Array;
  positionS: number;
  driftSdMps: number;
  driftS: number;
}>;

export type PositionEstimate = Readonly<{ positionM: Float64Array; sdM: Float64Array }>;

const MOST_TRIED = 20_000;
const SCALES = 14;

/** Integral of a velocity from the first row, trapezoid rule, m. */
export function travelled(tS: Float64Array, velocityMps: Float64Array): Float64Array {
  const out = new Float64Array(tS.length);
  let sum = 0;
  let previousS = tS[0] ?? 0;
  let previousMps = velocityMps[0] ?? 0;
  for (let i = 0; i < tS.length; i++) {
    const atS = tS[i] ?? previousS;
    const mps = velocityMps[i] ?? previousMps;
    sum += 0.5 * (mps + previousMps) * (atS - previousS);
    out[i] = sum;
    previousS = atS;
    previousMps = mps;
  }
  return out;
}

/** What the offset between position and travelled way wanders by, as variance per second. */
export type Wander = Readonly<{ varianceM2PerS: number }>;

type OffsetWalk = Readonly<{
  seen: Float64Array;
  noise: Float64Array;
  step: Float64Array;
}>;

/** The offset between position samples and the travelled way, with a wander of 1 m2/s. */
function offsetWalk(stretch: ComponentStretch, stride: number): OffsetWalk {
  const { wayM } = stretch;
  const n = Math.ceil(stretch.tS.length / stride);
  const seen = new Float64Array(n);
  const noise = new Float64Array(n);
  const step = new Float64Array(n);
  let previousS = stretch.tS[0] ?? 0;
  for (let k = 0; k < n; k++) {
    const i = k * stride;
    const atS = stretch.tS[i] ?? previousS;
    const sd = stretch.positionSdM[i] ?? Number.NaN;
    seen[k] = (stretch.positionM[i] ?? Number.NaN) - (wayM[i] ?? Number.NaN);
    noise[k] = Math.max(sd * sd, 1e-18);
    step[k] = Math.max(atS - previousS, 0);
    previousS = atS;
  }
  return { seen, noise, step };
}

/**
 * How fast the offset wanders: the likeliest of fourteen rates, each four times the one before,
 * from what the velocity's own noise explains upwards. A velocity that does not fit the position
 * (another frame, a lever arm, a bias) makes the offset wander more, and the position then leans
 * on its own samples.
 *
 * @param stretches the component on all stretches of the session
 * @param velocity the velocity's updates, for the least rate; `null` where it was derived
 * @returns variance of the wander per second
 */
export function likeliestWander(
  stretches: readonly ComponentStretch[],
  velocity: Samples | null,
): Wander {
  let total = 0;
  for (const stretch of stretches) total += stretch.tS.length;
  const stride = Math.max(1, Math.ceil(total / MOST_TRIED));
  const misfits = stretches.map((stretch) => misfitOf(stretch, stride));
  const sdMps = velocity === null ? 1e-4 : (velocity.sd[velocity.sd.length >> 1] ?? 0);
  const stepS = velocity === null || Number.isNaN(velocity.stepS) ? 1 : velocity.stepS;
  const least = Math.max(sdMps * sdMps * stepS, 1e-12);
  let best = { varianceM2PerS: least, misfit: Number.POSITIVE_INFINITY };
  for (let k = 0; k < SCALES; k++) {
    const varianceM2PerS = least * 4 ** k;
    let misfit = 0;
    for (const misfitAt of misfits) misfit += misfitAt(varianceM2PerS);
    if (misfit < best.misfit - 1) best = { varianceM2PerS, misfit };
  }
  return { varianceM2PerS: best.varianceM2PerS };
}

/** How badly a wander explains what a stretch shows, as minus twice its log likelihood. */
function misfitOf(stretch: ComponentStretch, stride: number): (varianceM2PerS: number) => number {
  if (stretch.slow !== null) {
    const walk = slowOffset(stretch, stretch.slow);
    return (varianceM2PerS) => slowOffsetMisfit(walk, varianceM2PerS);
  }
  const walk = { ...offsetWalk(stretch, stride), priorMean: 0, priorVariance: 1e12 };
  return (varianceM2PerS) => randomWalkMisfit(walk, varianceM2PerS);
}

/** The offset with its noise in parts; of many rows, means of neighbouring ones, each like one row. */
function slowOffset(stretch: ComponentStretch, slow: SlowParts): SlowOffset {
  const rows = Math.ceil(stretch.tS.length / MOST_TRIED);
  const n = Math.ceil(stretch.tS.length / rows);
  const column = (): Float64Array => new Float64Array(n);
  const [tS, seen, white, slowVariance] = [column(), column(), column(), column()];
  for (let k = 0; k < n; k++) {
    const to = Math.min(stretch.tS.length, (k + 1) * rows);
    const sums = { count: 0, tS: 0, offset: 0, quick: 0, slow: 0 };
    for (let i = k * rows; i < to; i++) {
      const offset = (stretch.positionM[i] ?? Number.NaN) - (stretch.wayM[i] ?? Number.NaN);
      tS[k] = (tS[k] ?? 0) + (stretch.tS[i] ?? 0) / (to - k * rows);
      if (Number.isNaN(offset)) continue;
      sums.count += 1;
      sums.offset += offset;
      sums.quick += (slow.quickSdM[i] ?? 0) ** 2;
      sums.slow += (slow.slowSdM[i] ?? 0) ** 2;
    }
    seen[k] = sums.count === 0 ? Number.NaN : sums.offset / sums.count;
    white[k] = Math.max(sums.quick / Math.max(1, sums.count) ** 2, 1e-18);
    slowVariance[k] = sums.slow / Math.max(1, sums.count);
  }
  const drift = { variance: slow.driftSdMps ** 2, timeS: slow.driftS };
  return { tS, seen, white, slow: slowVariance, slowS: slow.positionS, drift };
}

/** Position where noise is slow: its parts are smoothed beside the offset. */
function positionBesideSlow(
  stretch: ComponentStretch,
  slow: SlowParts,
  { varianceM2PerS }: Wander,
): PositionEstimate {
  const walk = slowOffset(stretch, slow);
  const offset = smoothSlowOffset(walk, varianceM2PerS);
  const positionM = new Float64Array(stretch.tS.length);
  const sdM = new Float64Array(stretch.tS.length);
  const last = walk.tS.length - 1;
  let k = 0;
  for (let i = 0; i < stretch.tS.length; i++) {
    const atS = stretch.tS[i] ?? Number.NaN;
    while (k + 1 < last && (walk.tS[k + 1] ?? Number.NaN) <= atS) k++;
    const [lowS, highS] = [walk.tS[k] ?? atS, walk.tS[Math.min(last, k + 1)] ?? atS];
    const share = highS > lowS ? Math.min(1, Math.max(0, (atS - lowS) / (highS - lowS))) : 0;
    const between = (values: Float64Array): number => {
      const low = values[k] ?? Number.NaN;
      return low + share * ((values[Math.min(last, k + 1)] ?? low) - low);
    };
    positionM[i] = (stretch.wayM[i] ?? Number.NaN) + between(offset.mean);
    sdM[i] = Math.sqrt(between(offset.variance));
  }
  return { positionM, sdM };
}

/**
 * Position of one component over a stretch: the way travelled (integral of velocity) plus an offset
 * that wanders slowly, smoothed over all position samples of the stretch (random walk,
 * Rauch-Tung-Striebel; with noise that hangs together, beside that noise). Position noise is averaged over minutes while every move the velocity shows
 * stays sharp; a root of squares formed afterwards is then hardly raised by noise.
 *
 * @param stretch the component on rows without a gap
 * @param wander from `likeliestWander`
 * @returns position and its standard deviation at each row, m; NaN where no position was seen
 */
export function positionAlong(stretch: ComponentStretch, wander: Wander): PositionEstimate {
  const walk = offsetWalk(stretch, 1);
  const n = walk.seen.length;
  let anything = false;
  for (let i = 0; i < n; i++) {
    walk.step[i] = (walk.step[i] ?? 0) * wander.varianceM2PerS;
    if (!Number.isNaN(walk.seen[i])) anything = true;
  }
  if (!anything) {
    const unknown = new Float64Array(n).fill(Number.NaN);
    return { positionM: unknown, sdM: unknown };
  }
  if (stretch.slow !== null) return positionBesideSlow(stretch, stretch.slow, wander);
  const level = smoothedLevel({ ...walk, priorMean: 0, priorVariance: 1e12 });
  const positionM = level.mean;
  for (let i = 0; i < n; i++) {
    positionM[i] = (stretch.wayM[i] ?? 0) + (positionM[i] ?? Number.NaN);
    level.variance[i] = Math.sqrt(Math.max(level.variance[i] ?? 0, 0));
  }
  return { positionM, sdM: level.variance };
}
