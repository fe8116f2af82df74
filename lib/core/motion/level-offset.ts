/** Position estimated from its own samples and the integral of the velocity. */
import { randomWalkMisfit, smoothedLevel } from '../math/random-walk-smoother';
import type { Samples } from '../series/samples';

/** One component on the rows of a stretch without a gap. */
export type ComponentStretch = Readonly<{
  /** Times of the rows, s. */
  tS: Float64Array;
  /** Position samples at the rows, m; NaN = none. */
  positionM: Float64Array;
  /** Noise of each, standard deviation, m. */
  positionSdM: Float64Array;
  /** Velocity estimated at each row, m/s. */
  velocityMps: Float64Array;
}>;

export type PositionEstimate = Readonly<{ positionM: Float64Array; sdM: Float64Array }>;

const MOST_TRIED = 20_000;
const SCALES = 14;

/** Integral of the velocity from the stretch's first row, trapezoid rule, m. */
export function travelled(stretch: ComponentStretch): Float64Array {
  const { tS, velocityMps } = stretch;
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
function offsetWalk(stretch: ComponentStretch, wayM: Float64Array, stride: number): OffsetWalk {
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
  const walks = stretches.map((stretch) => offsetWalk(stretch, travelled(stretch), stride));
  const sdMps = velocity === null ? 1e-4 : (velocity.sd[velocity.sd.length >> 1] ?? 0);
  const stepS = velocity === null || Number.isNaN(velocity.stepS) ? 1 : velocity.stepS;
  const least = Math.max(sdMps * sdMps * stepS, 1e-12);
  let best = { varianceM2PerS: least, misfit: Number.POSITIVE_INFINITY };
  for (let k = 0; k < SCALES; k++) {
    const varianceM2PerS = least * 4 ** k;
    let misfit = 0;
    for (const walk of walks) {
      misfit += randomWalkMisfit({ ...walk, priorMean: 0, priorVariance: 1e12 }, varianceM2PerS);
    }
    if (misfit < best.misfit - 1) best = { varianceM2PerS, misfit };
  }
  return { varianceM2PerS: best.varianceM2PerS };
}

/**
 * Position of one component over a stretch: the way travelled (integral of velocity) plus an offset
 * that wanders slowly, smoothed over all position samples of the stretch (random walk,
 * Rauch-Tung-Striebel). Position noise is averaged over minutes while every move the velocity shows
 * stays sharp; a root of squares formed afterwards is then hardly raised by noise.
 *
 * @param stretch the component on rows without a gap
 * @param wander from `likeliestWander`
 * @returns position and its standard deviation at each row, m; NaN where no position was seen
 */
export function positionAlong(stretch: ComponentStretch, wander: Wander): PositionEstimate {
  const wayM = travelled(stretch);
  const walk = offsetWalk(stretch, wayM, 1);
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
  const level = smoothedLevel({ ...walk, priorMean: 0, priorVariance: 1e12 });
  for (let i = 0; i < n; i++) {
    wayM[i] = (wayM[i] ?? 0) + (level.mean[i] ?? Number.NaN);
    level.variance[i] = Math.sqrt(Math.max(level.variance[i] ?? 0, 0));
  }
  return { positionM: wayM, sdM: level.variance };
}
