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

/** A jump is supposed to be taken back over no less than this, s: what is over sooner may jump higher and hide. Our own choice. */
const LEAST_JUMP_S = 6;

/**
 * Heights at the rows of the largest excursions that would not have been found, m/s: of one that goes up and back at the
 * plan's acceleration, and of a jump that is taken back along a straight line. The latter is `null` where an excursion
 * stands out anywhere: a second one that jumps higher and yet hides is not supposed.
 */
type UnseenRates = Readonly<{ slopedMps: Float64Array; jumpMps: Float64Array | null }>;

/**
 * Largest excursions of the rate that would not have been found in a position.
 *
 * An excursion moves the position by its area. Over its length D slow noise moves it by
 * s (2 (1 - exp(-D / T)))^1/2, white noise as much as straight lines to either side leave unknown, and what
 * is under five of these is not taken for motion. Of all excursions of that area that go up and back at the plan's
 * acceleration a the highest has the height (a times area)^1/2 and lasts twice the height over a. A jump has moved
 * by its area after half of what it takes to be taken back, were it to stay: its height is the area over that.
 * Lines over the longest span still show 1.5 times the area over the span of it.
 *
 * @param position the position's updates
 * @param motion the rows, and the plan's acceleration
 * @param seen where an excursion stands out: what it may have been is in its own shapes, s
 * @returns heights at the rows, m/s, 0 where one is seen; `null` without a plan
 *
 * Valid: what jumps is taken back over six seconds or more, all else accelerates no harder than planned; not checked.
 * Source: elementary; the structure function of a first-order process, and the weights of a
 * sliding line's slope.
 */
export function unseenRates(
  position: Samples | undefined,
  { tS, accelerationMps2: a }: MeasuredMotion,
  seen: readonly Readonly<{ fromS: number; toS: number }>[],
): UnseenRates | null {
  if (position === undefined || a === null || !(a > 0)) return null;
  const { sd, slowSd, slowS, stepS } = position;
  const whiteShare = AREA_VARIANCE_PER_S * stepS * meanVarianceFactor(position.correlation);
  const areaM = (lastsS: number, near: number): number => {
    const [quickM, slowM] = [sd[near] ?? Number.NaN, slowSd?.[near] ?? 0];
    const slow = slowM === 0 ? 0 : 2 * slowM * slowM * (1 - Math.exp(-lastsS / slowS));
    return LEAST_STANDING_OUT * Math.sqrt(slow + whiteShare * quickM * quickM);
  };
  const hidden = (heightMps: number, ofM: number): number =>
    Math.max(0, heightMps - (1.5 * ofM) / (2 * LONGEST_DERIVED_HALF_SPAN_S));
  const slopedOf = (near: number): number => {
    let lastsS = slowS;
    for (let round = 0; round < ROUNDS; round++) {
      const nextS = 2 * Math.sqrt(areaM(lastsS, near) / a);
      if (nextS === lastsS) break;
      lastsS = nextS;
    }
    const heightMps = (a * lastsS) / 2;
    return hidden(heightMps, (heightMps * heightMps) / a);
  };
  const jumpOf = (near: number): number => {
    const ofM = areaM(LEAST_JUMP_S / 2, near);
    return hidden(ofM / (LEAST_JUMP_S / 2), ofM);
  };
  const along = (heightOf: (near: number) => number): Float64Array => {
    let near = 0;
    return tS.map((atS) => {
      if (seen.some(({ fromS, toS }) => atS >= fromS && atS <= toS)) return 0;
      while (near < sd.length - 1 && (position.tS[near] ?? atS) < atS) near++;
      return heightOf(near);
    });
  };
  return { slopedMps: along(slopedOf), jumpMps: seen.length > 0 ? null : along(jumpOf) };
}

/**
 * Share of its height that the jump above holds for some seconds. To hold for more than half of what it lasts it is
 * taken back over twice as long: lower by as much, and half of that is left.
 */
export function jumpHeld(persistsS: number): number {
  const halfS = LEAST_JUMP_S / 2;
  return persistsS <= halfS ? 1 - persistsS / LEAST_JUMP_S : halfS / (2 * persistsS);
}
