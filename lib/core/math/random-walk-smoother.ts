/** Fixed-interval smoothing of a slowly wandering level seen through noise. */

/** A level that wanders by white steps, seen at times with white noise; NaN = not seen. */
export type RandomWalk = Readonly<{
  /** What was seen. */
  seen: Float64Array;
  /** Variance of the noise of each. */
  noise: Float64Array;
  /** Variance of the step into each (the first one's counts on top of the prior). */
  step: Float64Array;
  priorMean: number;
  priorVariance: number;
}>;

export type SmoothedLevel = Readonly<{
  mean: Float64Array;
  variance: Float64Array;
  filteredMean: Float64Array;
  filteredVariance: Float64Array;
}>;

/**
 * Filter forwards, then the Rauch-Tung-Striebel pass backwards.
 *
 * @public
 *
 * @returns for each time the level's mean and variance given all that was seen (`mean`,
 *   `variance`), and given what was seen up to then (`filteredMean`, `filteredVariance`)
 *
 * Valid: noise variances above 0; lengths equal, not checked.
 * Source: H. E. Rauch, F. Tung, C. T. Striebel, "Maximum likelihood estimates of linear dynamic
 * systems", AIAA J. 3 (1965) 1445.
 */
export function smoothRandomWalk(walk: RandomWalk): SmoothedLevel {
  const filtered = filterForwards(walk);
  const mean = filtered.mean.slice();
  const variance = filtered.variance.slice();
  smoothBackwards(walk, mean, variance);
  return { mean, variance, filteredMean: filtered.mean, filteredVariance: filtered.variance };
}

/** A level that wanders at one rate, seen at times. */
export type Wandering = Readonly<{
  /** Ascending, s. */
  tS: Float64Array;
  /** Standard deviation of the noise of each sight. */
  noiseSd: Float64Array;
  /** Variance of the wander per second. */
  variancePerS: number;
}>;

/** The level is unknown beforehand by this variance; no noise counts as smaller than the least one. */
const UNKNOWN = 1e12;
const LEAST_VARIANCE = 1e-18;

/**
 * As `smoothRandomWalk` for a level that wanders at one rate, in place and without columns of its own.
 *
 * @param level what was seen, NaN = nothing; becomes the mean given all that was seen
 * @param sd becomes its standard deviation
 */
export function smoothWandering(walk: Wandering, level: Float64Array, sd: Float64Array): void {
  const { tS, noiseSd, variancePerS } = walk;
  const n = level.length;
  let m = 0;
  let p = UNKNOWN;
  for (let i = 0; i < n; i++) {
    if (i > 0) p += Math.max(tS[i]! - tS[i - 1]!, 0) * variancePerS;
    const z = level[i]!;
    if (!Number.isNaN(z)) {
      const one = noiseSd[i]!;
      const r = Math.max(one * one, LEAST_VARIANCE);
      const gain = p / (p + r);
      m += gain * (z - m);
      p = gain * r;
    }
    level[i] = m;
    sd[i] = p;
  }
  if (n > 0) sd[n - 1] = Math.sqrt(Math.max(p, 0));
  let [nextM, nextP] = [m, p];
  for (let i = n - 2; i >= 0; i--) {
    const hereP = sd[i]!;
    const stepP = Math.max(tS[i + 1]! - tS[i]!, 0) * variancePerS;
    const predicted = hereP + stepP;
    const gain = predicted > 0 ? hereP / predicted : 1;
    const hereM = level[i]!;
    nextM = hereM + gain * (nextM - hereM);
    // A sum: before the first sight a difference of two variances of the unknown would leave no digit.
    nextP = gain * stepP + gain * gain * nextP;
    level[i] = nextM;
    sd[i] = Math.sqrt(Math.max(nextP, 0));
  }
}

function filterForwards(walk: RandomWalk): Readonly<Record<'mean' | 'variance', Float64Array>> {
  const { seen, noise, step } = walk;
  const n = seen.length;
  const mean = new Float64Array(n);
  const variance = new Float64Array(n);
  let m = walk.priorMean;
  let p = walk.priorVariance;
  for (let i = 0; i < n; i++) {
    p += step[i]!;
    const z = seen[i]!;
    if (!Number.isNaN(z)) {
      const r = noise[i]!;
      const gain = p / (p + r);
      m += gain * (z - m);
      p = gain * r;
    }
    mean[i] = m;
    variance[i] = p;
  }
  return { mean, variance };
}

/** The pass backwards, in place of the filter's means and variances. */
function smoothBackwards({ step }: RandomWalk, mean: Float64Array, variance: Float64Array): void {
  for (let i = mean.length - 2; i >= 0; i--) {
    const m = mean[i]!;
    const p = variance[i]!;
    const predicted = p + step[i + 1]!;
    const gain = predicted > 0 ? p / predicted : 1;
    mean[i] = m + gain * (mean[i + 1]! - m);
    variance[i] = gain * step[i + 1]! + gain * gain * variance[i + 1]!;
  }
}

/**
 * Minus twice the log likelihood of what was seen, up to a constant; smaller fits better.
 *
 * @param walk as for `smoothRandomWalk`
 * @param stepScale factor on every step's variance
 * @returns the sum over innovations of log(variance) + innovation squared over variance, the first
 *   seen value left out (it only sets the level)
 */
export function randomWalkMisfit(walk: RandomWalk, stepScale: number): number {
  let m = 0;
  let p = Number.POSITIVE_INFINITY;
  let misfit = 0;
  for (let i = 0; i < walk.seen.length; i++) {
    const z = walk.seen[i]!;
    const r = walk.noise[i]!;
    p += walk.step[i]! * stepScale;
    if (Number.isNaN(z)) continue;
    if (p === Number.POSITIVE_INFINITY) {
      m = z;
      p = r;
      continue;
    }
    const total = p + r;
    const innovation = z - m;
    misfit += Math.log(total) + (innovation * innovation) / total;
    m += (p / total) * innovation;
    p = (p * r) / total;
  }
  return misfit;
}
