/** Normal probabilities, and the interval that a choice between two normal laws allows. */
import { NORMAL_95 } from './statistics';

/**
 * Probability that a standard normal variable lies beyond `z` on one side.
 *
 * @param z any number
 * @returns 0 to 1, to 1.5e-7
 *
 * Source: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 7.1.26.
 */
export function normalTail(z: number): number {
  if (z < 0) return 1 - normalTail(-z);
  const x = z / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const series =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  return (series * Math.exp(-x * x)) / 2;
}

/** One of two normal laws: how far its centre lies from the value reported, and its spread. */
export type NormalPart = Readonly<{ weight: number; apart: number; sd: number }>;

const BISECTIONS = 60;

function shareOutside(parts: readonly NormalPart[], half: number): number {
  return parts.reduce((sum, { weight, apart, sd }) => {
    if (sd === 0) return sum + (Math.abs(apart) > half ? weight : 0);
    return sum + weight * (normalTail((half - apart) / sd) + normalTail((half + apart) / sd));
  }, 0);
}

/**
 * Half-width about the value reported that holds 95 % of a mixture of normal laws.
 *
 * The spread of the mixture would not do: where a tenth of the weight lies far off, its spread is
 * too wide for most and too narrow for that tenth.
 *
 * @param parts weights that add to 1; `sd` not negative
 * @returns the half-width, in the unit of the parts
 *
 * Source: elementary; the share outside falls as the half-width grows, found by halving.
 */
export function mixtureHalfWidth(parts: readonly NormalPart[]): number {
  let low = 0;
  let high = Math.max(...parts.map(({ apart, sd }) => Math.abs(apart) + 2 * NORMAL_95 * sd));
  for (let round = 0; round < BISECTIONS; round += 1) {
    const middle = (low + high) / 2;
    if (shareOutside(parts, middle) > 0.05) low = middle;
    else high = middle;
  }
  return high;
}

/**
 * The value with half of a mixture of normal laws on either side.
 *
 * @param parts weights that add to 1; `sd` not negative
 * @returns in the unit of the parts, from where they are `apart`
 *
 * Source: elementary; the share below grows with the value, found by halving.
 */
export function mixtureMedian(parts: readonly NormalPart[]): number {
  let low = Math.min(...parts.map(({ apart, sd }) => apart - 2 * NORMAL_95 * sd));
  let high = Math.max(...parts.map(({ apart, sd }) => apart + 2 * NORMAL_95 * sd));
  for (let round = 0; round < BISECTIONS; round += 1) {
    const middle = (low + high) / 2;
    const below = parts.reduce((sum, { weight, apart, sd }) => {
      if (sd === 0) return sum + (apart < middle ? weight : 0);
      return sum + weight * normalTail((apart - middle) / sd);
    }, 0);
    if (below < 0.5) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
