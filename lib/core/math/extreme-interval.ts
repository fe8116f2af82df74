/** Half-widths of 95 % for extremes of noisy values, and for values that smoothing may have moved. */
import { normalTail } from './normal-mixture';
import { NORMAL_95, normalQuantile } from './statistics';

const INSIDE = 0.95;
const HALVINGS = 50;

/**
 * Estimates over time that compete for an extreme: over how long they reach, how fast the correlation of
 * their errors falls at first (1 - correlation over the time apart, 1/s), and the time between them, s.
 */
export type Competing = Readonly<{ lastsS: number; partingPerS: number; stepS: number }>;

/**
 * Estimates this many deviations under the largest may be as large in truth: the largest of a thousand alike
 * ones lies some three over, others as far under.
 */
export const COMPETES_WITHIN = 6;

/**
 * Share of the crossings of a level that estimates so far apart still show, of those that a trace without
 * steps makes.
 *
 * @param x level times the deviation of a step, in deviations of an estimate
 * @returns 1 for close ones, 2 / x2 for independent ones; exp(-0.583 x) for small x
 *
 * Source: D. Siegmund, B. Yakir, "The Statistics of Gene Mapping" (2007), section 5.2: the approximation of
 * the overshoot function nu.
 */
export function overshootShare(x: number): number {
  if (x < 1e-4) return 1 - 0.583 * x;
  const inner = 1 - normalTail(x / 2);
  const density = Math.exp((-x * x) / 8) / Math.sqrt(2 * Math.PI);
  return ((2 / x) * (inner - 0.5)) / ((x / 2) * inner + density);
}

/** How often estimates alike come to lie over a level that none of them has, in deviations of one. */
function comesOver(level: number, { lastsS, partingPerS, stepS }: Competing): number {
  const density = Math.exp((-level * level) / 2) / Math.sqrt(2 * Math.PI);
  const share = overshootShare(level * Math.sqrt(2 * partingPerS * stepS));
  return lastsS * partingPerS * level * density * share;
}

/**
 * Half-width factor of a 95 % interval for the extreme of estimates over time: the largest of many noisy
 * values lies above the largest true one more often than not. As wide as it takes where all are alike,
 * which is the worst case; one that stands out alone has the usual 1.96.
 *
 * @returns multiple of one estimate's standard deviation: h with P(-h < largest < h) = 0.95
 *
 * Valid: errors alike all the while, their correlation falling in a straight line at first, as that of means
 * over a span (1 over the span) and of a first-order process (1 over its time constant) does.
 * Source: M. R. Leadbetter, G. Lindgren, H. Rootzen, "Extremes and Related Properties of Random Sequences and
 * Processes" (1983), theorem 12.2.9 (Pickands' constant is 1); of separate estimates `overshootShare`.
 */
export function extreme95(competing: Competing): number {
  let low = 1;
  let high = 8;
  for (let i = 0; i < HALVINGS; i++) {
    const level = (low + high) / 2;
    const tail = normalTail(level);
    if ((1 - tail) * Math.exp(-comesOver(level, competing)) - tail < INSIDE) low = level;
    else high = level;
  }
  return low;
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
 * How far under its true value a smoothed one lies where it crosses a threshold, if it rises evenly and then
 * stays a little over it: lines over a span flatten the corner, and the crossing is put nearer to it, where
 * they flatten more. A rise over half a span higher than the threshold is crossed as it is.
 *
 * With the corner at 0 the lines show, to half a span L on either side of it, slope * (t - (L + t)2 / 4L) under the
 * height h: they cross where (L - t)2 slope = 4 L h, at 2 (h L / slope)1/2 before L. The rise itself
 * has crossed h / slope before the corner.
 *
 * @param slope of the rise per second, 0 or more
 * @param height where it stays, over the threshold, 0 or more
 * @param spanS span of the lines, s
 * @returns in the value's unit: the slope times how late the crossing comes
 *
 * Source: elementary; the mean of a rise and a level over a window.
 */
export function flattenedCrossing(slope: number, height: number, spanS: number): number {
  const rise = (slope * spanS) / 2;
  return height < rise ? (Math.sqrt(rise) - Math.sqrt(height)) ** 2 : 0;
}
