/** Fits of excursions, each a rise and a fall of a rate, to a stretch of a position. */

import { dot, type WhitenedWindow } from '../series/whitened-window';
import { rampWayFromMiddleM } from './excursion-shape';

/** Rise, stay and fall together take no longer, s; what lasts longer is two ramps. */
export const LONGEST_EXCURSION_S = 28;
/** From the middle of the rise to that of the fall at least: shorter is a step of the position, s. */
export const SHORTEST_EXCURSION_S = 1;

/** A ramp of the rate with its column, that one's square and its product with the data. */
export type Ramp = Readonly<{
  middleS: number;
  lastsS: number;
  column: Float64Array;
  square: number;
  product: number;
}>;

/** An excursion: heights and net change of the rate (m/s), what both take off the squares. */
export type Fit = Readonly<{
  /** A jump that is taken back along a straight line, or one with a top (or a rise that is none at once). */
  kind: 'falling' | 'topped';
  up: Ramp;
  down: Ramp;
  /** How likely it was before looking, but for its height. */
  prior: number;
  heightMps: number;
  /** Variance of the height. */
  variance: number;
  netMps: number;
  gain: number;
}>;

export function rampOf(window: WhitenedWindow, middleS: number, lastsS: number): Ramp {
  const column = window.columnOf((atS) => rampWayFromMiddleM(lastsS, atS - middleS));
  return {
    middleS,
    lastsS,
    column,
    square: dot(column, column),
    product: dot(column, window.data),
  };
}

/**
 * Fits the height of an excursion, and by how much the rate afterwards differs from the one before, which is
 * none but for `netMps` (1 sd). `null` where rise and fall are no excursion, or the data do not tell.
 */
export function fitExcursion(
  up: Ramp,
  down: Ramp,
  { kind, netMps: netSdMps, prior }: Readonly<Pick<Fit, 'kind' | 'netMps' | 'prior'>>,
): Fit | null {
  const apartS = down.middleS - up.middleS;
  const rampsS = (up.lastsS + down.lastsS) / 2;
  if (apartS < SHORTEST_EXCURSION_S || apartS < rampsS - 1e-9) return null;
  if (apartS + rampsS > LONGEST_EXCURSION_S + 1e-9) return null;
  const cross = dot(up.column, down.column);
  const square = up.square + down.square - 2 * cross;
  const mixed = cross - down.square;
  const net = down.square + 1 / netSdMps ** 2;
  const own = square - (mixed * mixed) / net;
  if (!(own > 1e-9 * square)) return null;
  const heightMps = (up.product - down.product - (mixed / net) * down.product) / own;
  const gain = own * heightMps * heightMps + (down.product * down.product) / net;
  const netMps = (down.product - mixed * heightMps) / net;
  return { kind, up, down, prior, heightMps, variance: 1 / own, netMps, gain };
}

/** The fit that takes most off; `null` without any. */
export function bestFit(fits: readonly Fit[]): Fit | null {
  return fits.reduce<Fit | null>((a, b) => (a !== null && a.gain >= b.gain ? a : b), null);
}
