/** Noise of a white and a slowly decaying part: how each shows in differences, means and slopes. */

/** exp(-u) moments over [0, 1]: the integrals of r^k exp(-u r), k = 0, 1 and 3. */
function moments(u: number): Readonly<{ m0: number; m1: number; m3: number }> {
  const e = Math.exp(-u);
  const m0 = (1 - e) / u;
  const m1 = (m0 - e) / u;
  const m2 = (2 * m1 - e) / u;
  return { m0, m1, m3: (3 * m2 - e) / u };
}

/**
 * Variance of the mean of a first-order process over a time, over the process's own variance.
 *
 * @param u the time over the process's time constant, 0 or more
 * @returns 1 for a short time, 2 / u for a long one
 *
 * Source: elementary; the double integral of exp(-|s - s'|).
 */
export function meanVarianceShare(u: number): number {
  if (u < 1e-3) return 1 - u / 3;
  return (2 * (u - 1 + Math.exp(-u))) / (u * u);
}

/**
 * Variance of the slope of a straight line fitted over a time T, over the process's variance / T2.
 *
 * @param u T over the time constant
 * @returns 2.4 u for a short time, 24 / u for a long one
 *
 * Source: elementary; 144 times the double integral of s s' exp(-u |s - s'|) over the unit span,
 * whose kernel is 1/12 - r/4 + r3/6 at distance r.
 */
export function slopeVarianceShare(u: number): number {
  // The closed form loses its digits below; the series is good to 1e-5 there.
  if (u < 0.03) return 2.4 * u * (1 - (5 * u) / 12 + (5 * u * u) / 42);
  const { m0, m1, m3 } = moments(u);
  return 288 * (m0 / 12 - m1 / 4 + m3 / 6);
}

/**
 * Variance of a sample's distance to the middle of its neighbours, over that of white noise (1.5
 * variances): of a first-order process.
 *
 * @param u distance of the neighbours over the time constant
 */
export function bendOfSlow(u: number): number {
  const e = Math.exp(-u);
  return (3 - 4 * e + e * e) / 3;
}

/**
 * The same of the integral of a first-order process of variance 1, s2.
 *
 * @param lagS distance of the neighbours, s
 * @param timeS time constant, s
 */
export function bendOfSlowIntegral(lagS: number, timeS: number): number {
  const u = lagS / timeS;
  if (u < 1e-3) return ((2 * lagS * lagS) / 9) * u;
  const e = Math.exp(-u);
  return (2 * timeS * timeS * (2 * (u - 1 + e) - (1 - e) * (1 - e))) / 6;
}
