/** Half-widths of 95 % for extremes of noisy values, and for values that smoothing may have moved. */
import { NORMAL_95, normalQuantile } from './statistics';

const INSIDE = 0.95;
const HALVINGS = 50;

/**
 * Half-width factor of a 95 % interval for the extreme of several estimates: the largest of k noisy values
 * lies above the largest true one more often than not. As wide as it takes where all k are alike, which is
 * the worst case; one that stands out alone has the usual 1.96.
 *
 * @param count number of independent estimates that compete, 1 or more, need not be whole
 * @returns multiple of one estimate's standard deviation: h with P(-h < largest of k < h) = 0.95
 *
 * Source: distribution of the largest of k independent values, H. A. David, H. N. Nagaraja, "Order
 * Statistics", 3rd ed. (2003), section 2.1: the k-th power of the one's.
 */
export function extreme95(count: number): number {
  const k = Math.max(1, count);
  let low = 0.5;
  let high = 1;
  for (let i = 0; i < HALVINGS; i++) {
    const p = (low + high) / 2;
    if (p ** k - (1 - p) ** k < INSIDE) low = p;
    else high = p;
  }
  return normalQuantile(low);
}

/**
 * Half-width of a 95 % interval round an estimate that may be off by a bias of known size and unknown
 * sign: the 95 % point of the size of a normal variable with that mean.
 *
 * @param sd the estimate's standard deviation
 * @param bias size of the bias, 0 or more, in the same unit
 * @returns 1.96 sd without bias; about bias + 1.645 sd for a large one
 *
 * Source: T. B. Armstrong, M. Kolesar, "Simple and honest confidence intervals in nonparametric
 * regression", Quantitative Economics 11 (2020) 1, eq. 2.
 */
export function biased95(sd: number, bias: number): number {
  const off = Math.abs(bias);
  if (!(off > 0)) return NORMAL_95 * sd;
  if (!(sd > 0)) return off + NORMAL_95 * sd;
  // Both tails together hold 5 %; the one on the bias's side the larger part of it.
  let low = (1 - INSIDE) / 2;
  let high = 1 - INSIDE;
  const ratio = off / sd;
  for (let i = 0; i < HALVINGS; i++) {
    const near = (low + high) / 2;
    const far = 1 - INSIDE - near;
    if (-normalQuantile(far) + normalQuantile(near) < 2 * ratio) low = near;
    else high = near;
  }
  return sd * (ratio - normalQuantile(low));
}

/**
 * What lines over a span take off a value that rises evenly and then stays: most at the corner, an eighth
 * of slope times span, and nothing half a span away from it.
 *
 * @param slope per second, 0 or more
 * @param awayS distance to the corner, s, 0 or more
 * @param spanS span of the lines, s
 *
 * Source: elementary; the mean of the part over the corner inside the span.
 */
export function flattenedAtCorner(slope: number, awayS: number, spanS: number): number {
  const shortS = Math.max(0, spanS / 2 - awayS);
  return (slope * shortS * shortS) / (2 * spanS);
}
