/** How far the length of a noisy vector may lie from its true length. */
import { normalTail } from './normal-mixture';

const INSIDE = 0.95;
const HALVINGS = 26;
/** Places of the noise across, to four deviations to either side. */
const PLACES = 32;
const FARTHEST = 4;

/** Probability that the length of (truth + along e1, across e2) lies within `half` of `truth`. */
function insideShare(truth: number, along: number, across: number, half: number): number {
  const stepSd = FARTHEST / PLACES;
  let sum = 0;
  let whole = 0;
  for (let k = 0; k < PLACES; k++) {
    const place = (k + 0.5) * stepSd;
    const density = Math.exp((-place * place) / 2);
    whole += density;
    const square = (across * place) ** 2;
    const outerSquare = (truth + half) ** 2 - square;
    if (outerSquare <= 0) continue;
    const outer = Math.sqrt(outerSquare);
    const inner = Math.sqrt(Math.max(0, Math.max(0, truth - half) ** 2 - square));
    const between = (low: number, high: number): number =>
      normalTail((low - truth) / along) - normalTail((high - truth) / along);
    sum += density * (between(inner, outer) + between(-outer, -inner));
  }
  return sum / whole;
}

/**
 * Half-width within which the length of a vector in the plane lies about its true length in 95 of 100 cases, with normal
 * noise along it and across it. 1.96 deviations for a long one; 2.45 where nothing is there (the length of
 * noise alone), where 1.96 would hold it in 85 of 100.
 *
 * @param truth true length, 0 or more
 * @param along standard deviation of the noise along the vector, 0 or more
 * @param across standard deviation of the noise across it, 0 or more; 0 is returned where both are 0
 * @returns in the unit of the three
 *
 * Source: S. O. Rice, "Mathematical Analysis of Random Noise", Bell System Technical Journal 24 (1945) 46,
 * section 3.10: the envelope of a constant and of noise; here by sums over the noise across.
 */
export function lengthScatter95(truth: number, along: number, across: number): number {
  const size = Math.hypot(along, across);
  if (Number.isNaN(size + truth)) return Number.NaN;
  if (size === 0) return 0;
  const least = Math.max(along, 1e-6 * size);
  let low = 0;
  let high = 4 * size;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (insideShare(truth, least, across, middle) < INSIDE) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * Half-width of a 95 % interval round the length of a noisy vector: it reaches down to the shortest true length that
 * scatters so far. What is as short as noise may be nothing at all, and 0 is then inside.
 *
 * @param seen length of the noisy vector, 0 or more
 * @param along standard deviation of the noise along it
 * @param across standard deviation of the noise across it
 *
 * Source: J. Neyman, "Outline of a Theory of Statistical Estimation Based on the Classical Theory of Probability",
 * Phil. Trans. R. Soc. A 236 (1937) 333: all true values of whose scatter the observation is part.
 */
export function lengthHalf95(seen: number, along: number, across: number): number {
  const beyond = (truth: number): number => seen - truth - lengthScatter95(truth, along, across);
  let low = 0;
  let high = seen;
  if (!(beyond(0) > 0)) high = 0;
  for (let i = 0; i < HALVINGS && high > 0; i++) {
    const middle = (low + high) / 2;
    if (beyond(middle) > 0) low = middle;
    else high = middle;
  }
  return Math.max(seen - high, lengthScatter95(seen, along, across));
}
