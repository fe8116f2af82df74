/** Changes of the rate that a smoothed position alone would flatten: ramps from one rate to another. */
import { lowerBound } from '../math/search';
import type { Samples } from '../series/samples';
import { type Bins, binned, binWayM, rampWayM } from './ramp-bins';
import type { RowSpan } from './row-span';
import { weighedRamp } from './weighed-ramp';

/** The rate changes by `sizeMps`, along a straight line from `atS` over `lastsS`. */
export type RateRamp = Readonly<{ atS: number; lastsS: number; sizeMps: number }>;

/** No ramp lasts longer, s. */
const LONGEST_S = 70;
const GRID_S = 2;
/** Lengths looked for, s; each within a window of `REACH_S` and three quarters of it to either side. */
const LENGTHS_S = [1, 4, 10, 22, 45] as const;
export const REACH_S = 20;
const FEWEST_BESIDE = 8;
/** A ramp has to take this much off the squares, in variances of one datum. */
const LEAST_GAIN = 25;
const MOST_RAMPS = 60;
const SWEEPS = 3;
const SHORTEST_S = 0.3;

/** What a straight background leaves of the data in a window, and what is needed to fit against it. */
type Window = Readonly<{
  from: number;
  to: number;
  middleS: number;
  left: Float64Array;
  meanT: number;
  spreadT: number;
  variance: number;
}>;

function windowAt(bins: Bins, middleS: number, reachS: number): Window | null {
  const from = lowerBound(bins.tS, middleS - reachS);
  const to = lowerBound(bins.tS, middleS + reachS);
  const before = lowerBound(bins.tS, middleS) - from;
  const n = to - from;
  if (before < FEWEST_BESIDE || n - before < FEWEST_BESIDE) return null;
  let sumT = 0;
  let sumY = 0;
  let variance = 0;
  for (let i = from; i < to; i++) {
    sumT += (bins.tS[i] ?? 0) - middleS;
    sumY += bins.values[i] ?? 0;
    variance += (bins.variance[i] ?? 0) / n;
  }
  const meanT = sumT / n;
  let spreadT = 0;
  let product = 0;
  for (let i = from; i < to; i++) {
    const t = (bins.tS[i] ?? 0) - middleS - meanT;
    spreadT += t * t;
    product += t * ((bins.values[i] ?? 0) - sumY / n);
  }
  const left = new Float64Array(n);
  for (let i = from; i < to; i++) {
    const t = (bins.tS[i] ?? 0) - middleS - meanT;
    left[i - from] = (bins.values[i] ?? 0) - sumY / n - (product / spreadT) * t;
  }
  return { from, to, middleS, left, meanT, spreadT, variance };
}

/** Size of the ramp that fits best, and what it takes off the squares. */
function rampGain(
  bins: Bins,
  window: Window,
  atS: number,
  lastsS: number,
): Readonly<{ sizeMps: number; gain: number }> {
  const { from, to, middleS, left, meanT, spreadT } = window;
  const n = to - from;
  let sum = 0;
  let withT = 0;
  let square = 0;
  let product = 0;
  for (let i = from; i < to; i++) {
    const atBinS = bins.tS[i] ?? 0;
    const way = binWayM(bins, i, atS, lastsS);
    sum += way;
    withT += way * (atBinS - middleS - meanT);
    square += way * way;
    product += way * (left[i - from] ?? 0);
  }
  const own = square - (sum * sum) / n - (withT * withT) / spreadT;
  if (!(own > 1e-9 * square)) return { sizeMps: 0, gain: 0 };
  return { sizeMps: product / own, gain: (product * product) / (own * window.variance) };
}

/** A ramp, and how far to either side of the place it was found at the window reaches that told it, s. */
type Place = { middleS: number; lastsS: number; sizeMps: number; gain: number; reachS: number };

/** The best ramp with its middle at a grid point. */
function placeAt(bins: Bins, middleS: number): Place {
  let best: Place = { middleS, lastsS: 1, sizeMps: 0, gain: 0, reachS: REACH_S };
  for (const lastsS of LENGTHS_S) {
    const reachS = REACH_S + 0.75 * lastsS;
    const window = windowAt(bins, middleS, reachS);
    if (window === null) continue;
    const { sizeMps, gain } = rampGain(bins, window, middleS - lastsS / 2, lastsS);
    if (gain > best.gain) best = { middleS, lastsS, sizeMps, gain, reachS };
  }
  return best;
}

/**
 * Moves middle and length by ever smaller steps while the fit gets better. The window stays that in which the ramp
 * was told: in a shorter one slow noise may hide it.
 */
function refined(bins: Bins, start: Place): Place | null {
  const { reachS } = start;
  const window = windowAt(bins, start.middleS, reachS);
  if (window === null) return null;
  const at = (middleS: number, lastsS: number): Place => {
    const found = rampGain(bins, window, middleS - lastsS / 2, lastsS);
    return { middleS, lastsS, ...found, reachS };
  };
  let best = at(start.middleS, start.lastsS);
  let stepS = GRID_S;
  let factor = 1.6;
  while (stepS > 0.02) {
    const tries = [
      at(best.middleS - stepS, best.lastsS),
      at(best.middleS + stepS, best.lastsS),
      at(best.middleS, Math.max(SHORTEST_S, best.lastsS / factor)),
      at(best.middleS, Math.min(LONGEST_S, best.lastsS * factor)),
    ];
    const better = tries.reduce((a, b) => (b.gain > a.gain ? b : a));
    if (better.gain > best.gain) {
      best = better;
      continue;
    }
    stepS /= 2;
    factor = Math.sqrt(factor);
  }
  return best;
}

function addWay(bins: Bins, place: Place, sign: 1 | -1): void {
  const atS = place.middleS - place.lastsS / 2;
  for (let i = lowerBound(bins.tS, atS); i < bins.tS.length; i++) {
    const wayM = place.sizeMps * binWayM(bins, i, atS, place.lastsS);
    bins.values[i] = (bins.values[i] ?? 0) + sign * wayM;
  }
}

/**
 * The mean of the ramps that explain the data about as well. A length that the data do not tell is then as long as it is
 * on average, not as short as the best fit happens to be, and its place is not that of one local best fit.
 */
function weighed(bins: Bins, place: Place): Place {
  const window = windowAt(bins, place.middleS, place.reachS);
  if (window === null) return place;
  const { middleS, lastsS } = weighedRamp(
    place.middleS,
    [SHORTEST_S, LONGEST_S],
    (at, forS) => rampGain(bins, window, at - forS / 2, forS).gain,
  );
  return { ...place, middleS, lastsS, ...rampGain(bins, window, middleS - lastsS / 2, lastsS) };
}

function rampsOf(bins: Bins): readonly RateRamp[] {
  const firstS = bins.tS[0] ?? 0;
  const lastS = bins.tS[bins.tS.length - 1] ?? 0;
  const count = Math.max(0, Math.floor((lastS - firstS) / GRID_S));
  const grid = Array.from({ length: count }, (_, k) => placeAt(bins, firstS + (k + 0.5) * GRID_S));
  let ramps: Place[] = [];
  while (ramps.length < MOST_RAMPS) {
    const top = grid.reduce<Place | null>((a, b) => (a !== null && a.gain >= b.gain ? a : b), null);
    if (top === null || top.gain < LEAST_GAIN) break;
    const found = refined(bins, top);
    if (found === null || found.gain < LEAST_GAIN) {
      top.gain = 0;
      continue;
    }
    ramps.push(found);
    addWay(bins, found, -1);
    grid.forEach((place, k) => {
      const awayS = Math.abs(place.middleS - found.middleS);
      if (awayS < 2 * REACH_S + found.lastsS) grid[k] = placeAt(bins, place.middleS);
    });
  }
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    ramps = ramps.flatMap((ramp) => {
      addWay(bins, ramp, 1);
      const again = refined(bins, ramp);
      if (again === null || again.gain < LEAST_GAIN) return [];
      addWay(bins, again, -1);
      return [again];
    });
  }
  ramps = ramps.map((ramp) => {
    addWay(bins, ramp, 1);
    const mean = weighed(bins, ramp);
    addWay(bins, mean, -1);
    return mean;
  });
  return ramps.map(({ middleS, lastsS, sizeMps }) => ({
    atS: middleS - lastsS / 2,
    lastsS,
    sizeMps,
  }));
}

/** The ramps of one stretch, with the data they were found in. */
export type FoundRamps = Readonly<{ ramps: readonly RateRamp[]; bins: Bins }>;

/**
 * Finds where the rate goes from one value to another in a position: the ramp that explains most is
 * taken out, then the next, and each is fitted again with the others out, in the end as the mean of all that
 * explain the data about as well. What is then left is nearly straight and may be smoothed over a long span.
 *
 * @param position updates
 * @param span a stretch without a gap, as an index range of the updates
 * @returns ramps in time order
 */
export function findRateRamps(position: Samples, span: RowSpan): FoundRamps {
  const bins = binned(position, span);
  const ramps = [...rampsOf(bins)].sort((a, b) => a.atS - b.atS);
  return { ramps, bins };
}

/** Rate that a ramp has added at a time, m/s. */
export function rampRateMps(ramp: RateRamp, atS: number): number {
  return ramp.sizeMps * Math.min(1, Math.max(0, (atS - ramp.atS) / ramp.lastsS));
}

/** Way that a ramp has added by a time, m. */
export function rampAddedM(ramp: RateRamp, atS: number): number {
  return ramp.sizeMps * rampWayM(ramp.lastsS, atS - ramp.atS);
}
