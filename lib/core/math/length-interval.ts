/** How far the length of a noisy vector may lie from its true length. */
import { normalTail } from './normal-mixture';

const INSIDE = 0.95;
const HALVINGS = 40;
/** Places of the noise across, to four deviations to either side. */
const PLACES = 64;
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
export function lengthHalf95(truth: number, along: number, across: number): number {
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
