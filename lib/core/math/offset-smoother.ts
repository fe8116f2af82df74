/** Fixed-interval smoothing of a wandering offset seen through noise that hangs together. */

/** A first-order process: variance, and the time over which it decays, s. */
export type SlowProcess = Readonly<{ variance: number; timeS: number }>;

/**
 * An offset that wanders by white steps and drifts at a slow rate, seen at times with slow and white noise.
 * Columns over the times, ascending.
 */
export type SlowOffset = Readonly<{
  tS: Float64Array;
  /** What was seen; NaN = nothing. */
  seen: Float64Array;
  /** Variance of the white noise of each. */
  white: Float64Array;
  /** Variance of the slow noise of each (its time constant is `slowS`). */
  slow: Float64Array;
  slowS: number;
  /** The rate at which the offset drifts. */
  drift: SlowProcess;
}>;

export type SmoothedOffset = Readonly<{ mean: Float64Array; variance: Float64Array }>;

/** The offset is unknown beforehand by this many variances of the first sight. */
const UNKNOWN = 1e6;

/** Elements of a symmetric 3 x 3 matrix, kept at each time: 00, 01, 02, 11, 12, 22. */
const KEPT = 6;

/** Variance that a drift's chance adds over a step: to the offset, to both, and to the drift itself. */
function driftNoise({ variance, timeS }: SlowProcess, stepS: number) {
  const a = stepS / timeS;
  const keep = Math.exp(-a);
  // The closed form loses its digits for short steps.
  const way = a < 1e-3 ? (2 * a * a * a) / 3 : 2 * a - 3 + 4 * keep - keep * keep;
  return {
    keep,
    reachS: timeS * (1 - keep),
    offset: variance * timeS * timeS * way,
    both: variance * timeS * (1 - keep) * (1 - keep),
    own: variance * (1 - keep * keep),
  };
}

/** What a filter leaves for the way back, by time; NaN where nothing was seen. */
type Kept = Readonly<{
  /** Predicted offset, drift, slow noise at each time, and their covariance. */
  state: Float64Array;
  covariance: Float64Array;
  /** What was seen less what was predicted, and its variance. */
  innovation: Float64Array;
  total: Float64Array;
}>;

/** Steps that differ by less, relative to themselves, are one: stamps are rounded. */
const SAME_STEP = 1e-9;

/** What is known before the first sight: its row, what was seen there, and the variance of the unknown. */
function beforeAll({ seen, white, slow }: SlowOffset) {
  let first = 0;
  while (first < seen.length && Number.isNaN(seen[first]!)) first++;
  const variance = UNKNOWN * Math.max(1e-18, (white[first] ?? 1) + (slow[first] ?? 1));
  return { first, level: seen[first] ?? 0, variance };
}

/**
 * The filter forwards. The slow noise is kept in units of its own deviation at each time, so that it may
 * change with the range.
 *
 * @param kept filled with what the way back needs; null where only the likelihood is asked for
 * @returns minus twice the log likelihood, up to a constant
 */
function forwards(walk: SlowOffset, wanderPerS: number, kept: Kept | null): number {
  const { tS, seen, white, slow, slowS, drift } = walk;
  const n = tS.length;
  const { first, level, variance } = beforeAll(walk);
  let [o, u, s] = [level, 0, 0];
  let [p00, p01, p02] = [variance, 0, 0];
  let [p11, p12, p22] = [drift.variance, 0, 1];
  let misfit = 0;
  let stepS = 0;
  let noise = driftNoise(drift, 0);
  let keepS = 1;
  for (let i = 0; i < n; i++) {
    const nextS = i === 0 ? 0 : tS[i]! - tS[i - 1]!;
    if (Math.abs(nextS - stepS) > SAME_STEP * stepS) {
      stepS = nextS;
      noise = driftNoise(drift, stepS);
      keepS = Math.exp(-stepS / slowS);
    }
    const { keep, reachS } = noise;
    o += reachS * u;
    u *= keep;
    s *= keepS;
    p00 += reachS * (2 * p01 + reachS * p11) + noise.offset + wanderPerS * stepS;
    p01 = keep * (p01 + reachS * p11) + noise.both;
    p02 = keepS * (p02 + reachS * p12);
    p11 = keep * keep * p11 + noise.own;
    p12 = keep * keepS * p12;
    p22 = keepS * keepS * p22 + (1 - keepS * keepS);
    if (kept !== null) {
      kept.state.set([o, u, s], 3 * i);
      kept.covariance.set([p00, p01, p02, p11, p12, p22], KEPT * i);
    }
    const z = seen[i]!;
    if (Number.isNaN(z)) continue;
    const c = Math.sqrt(slow[i]!);
    const h0 = p00 + c * p02;
    const h1 = p01 + c * p12;
    const h2 = p02 + c * p22;
    const sum = h0 + c * h2 + white[i]!;
    const off = z - o - c * s;
    if (kept !== null) {
      kept.innovation[i] = off;
      kept.total[i] = sum;
    }
    const inverse = 1 / sum;
    if (i > first) misfit += Math.log(sum) + off * off * inverse;
    const k0 = h0 * inverse;
    const k1 = h1 * inverse;
    const k2 = h2 * inverse;
    o += k0 * off;
    u += k1 * off;
    s += k2 * off;
    p00 -= k0 * h0;
    p01 -= k0 * h1;
    p02 -= k0 * h2;
    p11 -= k1 * h1;
    p12 -= k1 * h2;
    p22 -= k2 * h2;
  }
  return misfit;
}

/**
 * Minus twice the log likelihood of what was seen, up to a constant; smaller fits better.
 *
 * @param wanderPerS variance of the offset's own white wander per second
 */
export function slowOffsetMisfit(walk: SlowOffset, wanderPerS: number): number {
  return forwards(walk, wanderPerS, null);
}

/**
 * The offset at each time given all that was seen: a filter forwards, then the adjoint of it backwards,
 * which needs no inverse.
 *
 * @param wanderPerS variance of the offset's own white wander per second
 * @returns mean and variance of the offset at each time
 *
 * Valid: at least one time seen; white variances above 0, not checked. Between times the drift is
 * carried exactly.
 * Source: G. J. Bierman, "Fixed interval smoothing with discrete measurements", Int. J. Control 18
 * (1973) 65 (the modified Bryson-Frazier form); the steps of a first-order process and of its integral
 * are elementary.
 */
export function smoothSlowOffset(walk: SlowOffset, wanderPerS: number): SmoothedOffset {
  const { tS, white, slow, slowS, drift } = walk;
  const n = tS.length;
  const kept: Kept = {
    state: new Float64Array(3 * n),
    covariance: new Float64Array(KEPT * n),
    innovation: new Float64Array(n).fill(Number.NaN),
    total: new Float64Array(n),
  };
  forwards(walk, wanderPerS, kept);
  const { state, covariance, innovation, total } = kept;
  const mean = new Float64Array(n);
  const variance = new Float64Array(n);
  // The adjoint state and its matrix, symmetric.
  let [l0, l1, l2] = [0, 0, 0];
  let [m00, m01, m02, m11, m12, m22] = [0, 0, 0, 0, 0, 0];
  for (let i = n - 1; i >= 0; i--) {
    const at = KEPT * i;
    const [p00, p01, p02] = [covariance[at]!, covariance[at + 1]!, covariance[at + 2]!];
    const [p12, p22] = [covariance[at + 4]!, covariance[at + 5]!];
    const off = innovation[i]!;
    if (!Number.isNaN(off)) {
      const c = Math.sqrt(slow[i]!);
      const sum = total[i]!;
      const [h0, h2] = [p00 + c * p02, p02 + c * p22];
      const [k0, k1, k2] = [h0 / sum, (p01 + c * p12) / sum, h2 / sum];
      // I - K H with H = (1, 0, c); its diagonal without a difference of nearly equal numbers.
      const [a00, a02] = [(c * h2 + white[i]!) / sum, -c * k0];
      const [a20, a22] = [-k2, (h0 + white[i]!) / sum];
      [l0, l2] = [
        a00 * l0 - k1 * l1 + a20 * l2 - off / sum,
        a02 * l0 - c * k1 * l1 + a22 * l2 - (c * off) / sum,
      ];
      const [b00, b02] = [m00 * a00 - m01 * k1 + m02 * a20, m00 * a02 - c * m01 * k1 + m02 * a22];
      const [b10, b12] = [m01 * a00 - m11 * k1 + m12 * a20, m01 * a02 - c * m11 * k1 + m12 * a22];
      const b22 = m02 * a02 - c * m12 * k1 + m22 * a22;
      const b20 = m02 * a00 - m12 * k1 + m22 * a20;
      m00 = a00 * b00 - k1 * b10 + a20 * b20 + 1 / sum;
      m02 = a00 * b02 - k1 * b12 + a20 * b22 + c / sum;
      m22 = a02 * b02 - c * k1 * b12 + a22 * b22 + (c * c) / sum;
      [m01, m12] = [b10, b12];
    }
    mean[i] = state[3 * i]! - (p00 * l0 + p01 * l1 + p02 * l2);
    const q0 = m00 * p00 + m01 * p01 + m02 * p02;
    const q1 = m01 * p00 + m11 * p01 + m12 * p02;
    const q2 = m02 * p00 + m12 * p01 + m22 * p02;
    variance[i] = Math.max(0, p00 - (p00 * q0 + p01 * q1 + p02 * q2));
    if (i === 0) break;
    const stepS = tS[i]! - tS[i - 1]!;
    const { keep, reachS } = driftNoise(drift, stepS);
    const keepS = Math.exp(-stepS / slowS);
    l1 = reachS * l0 + keep * l1;
    l2 *= keepS;
    m11 = reachS * reachS * m00 + 2 * reachS * keep * m01 + keep * keep * m11;
    m12 = keepS * (reachS * m02 + keep * m12);
    m01 = reachS * m00 + keep * m01;
    m02 *= keepS;
    m22 *= keepS * keepS;
  }
  return { mean, variance };
}
