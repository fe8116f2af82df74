/** Position estimated from its own samples and the integral of the velocity. */
import { type SlowOffset, slowOffsetMisfit, smoothSlowOffset } from '../math/offset-smoother';
import { randomWalkMisfit, smoothWandering } from '../math/random-walk-smoother';
import type { Samples } from '../series/samples';

/** One component on the rows of a stretch without a gap. */
export type ComponentStretch = Readonly<{
  /** Times of the rows, s. */
  tS: Float64Array;
  /** Position samples at the rows less the way travelled from the first of them, m; NaN = none. */
  offsetM: Float64Array;
  /** Noise of each as that of white noise which a long mean would show, standard deviation, m. */
  positionSdM: Float64Array;
  /** The velocity whose way was taken off, m/s. */
  velocityMps: Float64Array;
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

const MOST_TRIED = 20_000;
const SCALES = 14;

/** Adds so many ways travelled since the first row to a column; the integral of a velocity by the trapezoid rule. */
export function addWay(
  { tS, velocityMps }: Pick<ComponentStretch, 'tS' | 'velocityMps'>,
  times: 1 | -1,
  positionM: Float64Array,
): void {
  let wayM = 0;
  let previousS = tS[0] ?? 0;
  let previousMps = velocityMps[0] ?? 0;
  for (let i = 0; i < tS.length; i++) {
    const atS = tS[i] ?? previousS;
    const mps = velocityMps[i] ?? previousMps;
    wayM += 0.5 * (mps + previousMps) * (atS - previousS);
    positionM[i] = (positionM[i] ?? Number.NaN) + times * wayM;
    previousS = atS;
    previousMps = mps;
  }
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
  const n = Math.ceil(stretch.tS.length / stride);
  const seen = new Float64Array(n);
  const noise = new Float64Array(n);
  const step = new Float64Array(n);
  let previousS = stretch.tS[0] ?? 0;
  for (let k = 0; k < n; k++) {
    const i = k * stride;
    const atS = stretch.tS[i] ?? previousS;
    const sd = stretch.positionSdM[i] ?? Number.NaN;
    seen[k] = stretch.offsetM[i] ?? Number.NaN;
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
      const offset = stretch.offsetM[i] ?? Number.NaN;
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

/** The offset where noise is slow: its parts are smoothed beside it. */
function smoothBesideSlow(
  stretch: ComponentStretch,
  slow: SlowParts,
  { varianceM2PerS }: Wander,
  sdM: Float64Array,
): void {
  const walk = slowOffset(stretch, slow);
  const offset = smoothSlowOffset(walk, varianceM2PerS);
  const last = walk.tS.length - 1;
  let k = 0;
  for (let i = 0; i < stretch.tS.length; i++) {
    const atS = stretch.tS[i] ?? Number.NaN;
    while (k + 1 < last && (walk.tS[k + 1] ?? Number.NaN) <= atS) k++;
    const next = Math.min(last, k + 1);
    const [lowS, highS] = [walk.tS[k] ?? atS, walk.tS[next] ?? atS];
    const share = highS > lowS ? Math.min(1, Math.max(0, (atS - lowS) / (highS - lowS))) : 0;
    stretch.offsetM[i] = between(offset.mean, k, next, share);
    sdM[i] = Math.sqrt(between(offset.variance, k, next, share));
  }
}

function between(values: Float64Array, here: number, next: number, share: number): number {
  const low = values[here] ?? Number.NaN;
  return low + share * ((values[next] ?? low) - low);
}

/**
 * Position of one component over a stretch: the way travelled (integral of velocity) plus an offset
 * that wanders slowly, smoothed over all position samples of the stretch (random walk,
 * Rauch-Tung-Striebel; with noise that hangs together, beside that noise). Position noise is averaged over minutes while every move the velocity shows
 * stays sharp; a root of squares formed afterwards is then hardly raised by noise.
 *
 * @param stretch the component on rows without a gap; its offsets become the position at each row, m, NaN
 *   where no position was seen
 * @param wander from `likeliestWander`
 * @param sdM becomes the position's standard deviation, m
 */
export function positionAlong(stretch: ComponentStretch, wander: Wander, sdM: Float64Array): void {
  const { tS, offsetM, positionSdM, slow } = stretch;
  if (offsetM.every(Number.isNaN)) {
    sdM.fill(Number.NaN);
    return;
  }
  if (slow !== null) smoothBesideSlow(stretch, slow, wander, sdM);
  else {
    const walk = { tS, noiseSd: positionSdM, variancePerS: wander.varianceM2PerS };
    smoothWandering(walk, offsetM, sdM);
  }
  addWay(stretch, 1, offsetM);
}
