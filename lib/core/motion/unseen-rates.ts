/** Excursions of a rate that noisy positions do not show. */
import { meanVarianceFactor, type Samples } from '../series/samples';
import { LONGEST_DERIVED_HALF_SPAN_S } from './derive-velocity';
import type { MeasuredMotion } from './measured-motion';

/** A ramp or an excursion has to stand out by this many standard errors to be taken for one. */
const LEAST_STANDING_OUT = 5;
/**
 * Variance of the area of an excursion of some seconds beside a straight line and a ramp over 20 s to either
 * side, over the variance of white noise times the time between samples, s. By least squares: 0.55 squared.
 */
const AREA_VARIANCE_PER_S = 0.31;
const ROUNDS = 8;

/**
 * Largest excursion of the rate that would not have been found in a position.
 *
 * An excursion moves the position by its area. Over its length D slow noise moves it by
 * s (2 (1 - exp(-D / T)))^1/2, white noise as much as straight lines to either side leave unknown, and what
 * is under five of these is not taken for motion. Of all excursions
 * of that area the highest goes up and back at the plan's acceleration a: height (a times area)^1/2, length
 * twice the height over a. Lines over the longest span still show 1.5 times its area over the span of it.
 *
 * @param position the position's updates
 * @param motion the rows, and the plan's acceleration
 * @param seen where an excursion stands out: what it may have been is in its own shapes, s
 * @returns heights at the rows, m/s, 0 where one is seen; `null` without a plan
 *
 * Valid: the vehicle accelerates no harder than planned, not checked.
 * Source: elementary; the structure function of a first-order process, and the weights of a
 * sliding line's slope.
 */
export function unseenRates(
  position: Samples | undefined,
  { tS, accelerationMps2: a }: MeasuredMotion,
  seen: readonly Readonly<{ fromS: number; toS: number }>[],
): Float64Array | null {
  if (position === undefined || a === null || !(a > 0)) return null;
  const { sd, slowSd, slowS, stepS } = position;
  const whiteShare = AREA_VARIANCE_PER_S * stepS * meanVarianceFactor(position.correlation);
  const heightOf = (quickM: number, slowM: number): number => {
    let lastsS = slowS;
    for (let round = 0; round < ROUNDS; round++) {
      const slow = slowM === 0 ? 0 : 2 * slowM * slowM * (1 - Math.exp(-lastsS / slowS));
      const noiseM = Math.sqrt(slow + whiteShare * quickM * quickM);
      const nextS = 2 * Math.sqrt((LEAST_STANDING_OUT * noiseM) / a);
      if (nextS === lastsS) break;
      lastsS = nextS;
    }
    const heightMps = (a * lastsS) / 2;
    const shownMps = (1.5 * heightMps * heightMps) / a / (2 * LONGEST_DERIVED_HALF_SPAN_S);
    return Math.max(0, heightMps - shownMps);
  };
  let near = 0;
  return tS.map((atS) => {
    if (seen.some(({ fromS, toS }) => atS >= fromS && atS <= toS)) return 0;
    while (near < sd.length - 1 && (position.tS[near] ?? atS) < atS) near++;
    return heightOf(sd[near] ?? Number.NaN, slowSd?.[near] ?? 0);
  });
}
