/** The instant of contact from data before it alone. */
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import type { Samples } from '../series/samples';
import { carriedOn } from './contact-conditions';

/** Data nearer to the first idea of contact are left out to begin with, s. */
const LEAST_BEFORE_S = 2;
/** And those within so many half-widths of it. */
const HALVES_BEFORE = 2;
const ROUNDS = 8;
/** What is found may be later than the first idea by so many of its half-widths. */
const LATEST_HALVES = 2;

type Crossing = Readonly<{ timeS: number; halfS: number }>;

/** A crossing, and since when the position has been as near to the plane as its noise is large, s. */
type FirstIdea = Crossing & Readonly<{ nearS: number }>;

/** Where the data up to an instant carry the position to the plane; `null` where they do not tell. */
function carriedTo(samples: Samples, planeM: number, untilS: number): Crossing | null {
  const carried = carriedOn(samples, untilS);
  if (carried === null) return null;
  let timeS = untilS;
  let halfS = Number.NaN;
  // A steady rate meets the plane at the second try; a mean of several bends a little.
  for (let round = 0; round < 3; round++) {
    const at = carried(timeS);
    if (!(at.rate < -at.rateHalf)) return null;
    timeS = Math.max(at.toS, timeS + (at.value - planeM) / -at.rate);
    halfS = at.half / -at.rate;
  }
  return { timeS, halfS };
}

/**
 * When a position whose data end before the plane of first touch reaches it, as all of them carry it there.
 *
 * @returns the instant with its 95 % half-width, s; `null` where they do not tell
 */
export function carriedPastEnd(samples: Samples, planeM: number): Crossing | null {
  const lastS = samples.tS[samples.tS.length - 1];
  return lastS === undefined ? null : carriedTo(samples, planeM, lastS);
}

/**
 * When a position reaches the plane of first touch, as the motion before carries it there. A rate that comes from the
 * position is smoothed across the stop at contact, which bends it; so data from the instant on are not used. First those
 * well before it are carried on to the plane, then those up to closely before where that is.
 *
 * @param samples the axial position's updates
 * @param planeM axial distance at first touch, m
 * @param first the instant as the smoothed motion has it, with its 95 % half-width, s: late where the vehicle comes to rest
 *   close to the plane, but not before the position was near it
 * @returns the instant with its 95 % half-width, s; `null` where the data before it do not tell it better
 *
 * Valid: the approach does not stop before the plane; how fast its rate wanders is taken from the data.
 */
export function carriedContact(
  samples: Samples,
  planeM: number,
  first: FirstIdea,
): Crossing | null {
  let untilS = Math.min(
    first.nearS,
    first.timeS - Math.max(LEAST_BEFORE_S, HALVES_BEFORE * first.halfS),
  );
  let best: Crossing | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    if (lowerBound(samples.tS, untilS) === 0) break;
    const found = carriedTo(samples, planeM, untilS);
    if (found === null) break;
    if (best === null || found.halfS < best.halfS) best = found;
    const nextS = found.timeS - (2 * found.halfS) / NORMAL_95;
    if (nextS <= untilS + samples.stepS) break;
    untilS = nextS;
  }
  if (best === null || !(best.halfS < first.halfS)) return null;
  const isNear =
    best.timeS >= first.nearS && best.timeS <= first.timeS + LATEST_HALVES * first.halfS;
  return isNear ? best : null;
}
