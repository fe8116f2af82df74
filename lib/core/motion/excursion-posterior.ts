/** What a stretch of a position says about an excursion of its rate: all shapes that explain it, weighed. */

import type { WhitenedWindow } from '../series/whitened-window';
import {
  bestFit,
  type Fit,
  fitExcursion,
  LONGEST_EXCURSION_S,
  type Ramp,
  rampOf,
  SHORTEST_EXCURSION_S,
} from './excursion-fits';
import { type ExcursionShape, rampShareFromMiddle } from './excursion-shape';

/** A rise or a fall of a trapezoid lasts no longer, s. */
const LONGEST_RAMP_S = 14;
/** How likely a rise or a fall is at once, before looking; else each length is as likely as another. */
const AT_ONCE = 0.4;
/**
 * How likely a jump that is taken back along a straight line is before looking: one fault, where a flat top asks for two.
 * The rest are trapezoids. Our own choice.
 */
export const FALLING = 2 / 3;
/** Kinds that a vehicle makes: taken back along a line, up and back at once, or with slopes to both sides. */
type CourseKind = 'falling' | 'box' | 'sloped';

export function courseKindOf({ kind, up, down }: Fit): CourseKind {
  if (kind === 'falling') return 'falling';
  return up.lastsS === 0 && down.lastsS === 0 ? 'box' : 'sloped';
}

/** How likely each kind is before looking. */
export const KIND_SHARES: Readonly<Record<CourseKind, number>> = {
  falling: FALLING,
  box: (1 - FALLING) * AT_ONCE * AT_ONCE,
  sloped: (1 - FALLING) * (1 - AT_ONCE * AT_ONCE),
};

const ROUNDS = 3;
const FIRST_REACH_S = LONGEST_EXCURSION_S / 2 + 2;
/** Instants and lengths looked at in later rounds. */
const INSTANTS = 12;
const LENGTHS = 5;
/** Fits that leave so many more squares over are not kept. */
const FAR_WORSE = 100;
/** Together the values left out of the next round have less than this. */
const LEFT_OUT = 1e-4;
/** Shapes this much less likely than the likeliest together change nothing. */
const LEAST_WEIGHT = 2e-4;

/** A shape with its weight. */
export type Member = Fit & Readonly<{ weight: number }>;

/** Shapes with weights that add up to 1; times are seconds after the window's middle. */
export type ExcursionPosterior = Readonly<{
  members: readonly Member[];
  best: Fit;
  /** Squares left over a datum by the best, at least 1 (that of noise). */
  unit: number;
}>;

function spaced(from: number, to: number, count: number): number[] {
  const stepS = (to - from) / (count - 1);
  return Array.from({ length: count }, (_, k) => from + k * stepS);
}

function stepOf(values: readonly number[]): number {
  return (values[1] ?? 0) - (values[0] ?? 0);
}

/** Middles of `count` even pieces of a range. */
function pieces(from: number, to: number, count: number): number[] {
  return Array.from({ length: count }, (_, k) => from + ((k + 0.5) * (to - from)) / count);
}

/** Instants of ramps, and their lengths. */
type Grid = Readonly<{ middlesS: readonly number[]; lengthsS: readonly number[] }>;

const FIRST_MIDDLES_S = spaced(-FIRST_REACH_S, FIRST_REACH_S, 2 * FIRST_REACH_S + 1);

/** All ramps of a grid with how likely each is before looking; lengths over 0 stand for their surroundings. */
function rampsOf(
  window: WhitenedWindow,
  { middlesS, lengthsS }: Grid,
): readonly Readonly<{ ramp: Ramp; prior: number }>[] {
  const some = lengthsS.filter((lastsS) => lastsS > 0);
  const each = ((1 - AT_ONCE) * stepOf(some)) / LONGEST_RAMP_S;
  return middlesS.flatMap((middleS) =>
    lengthsS.map((lastsS) => ({
      ramp: rampOf(window, middleS, lastsS),
      prior: stepOf(middlesS) * (lastsS > 0 ? each : AT_ONCE),
    })),
  );
}

function trapezoids(window: WhitenedWindow, up: Grid, down: Grid, netMps: number): Fit[] {
  const share = (1 - FALLING) / Math.log(LONGEST_EXCURSION_S / SHORTEST_EXCURSION_S);
  const downs = rampsOf(window, down);
  const fits: Fit[] = [];
  let gain = 0;
  for (const rise of rampsOf(window, up)) {
    for (const fall of downs) {
      const apartS = Math.max(SHORTEST_EXCURSION_S, fall.ramp.middleS - rise.ramp.middleS);
      const prior = (share * rise.prior * fall.prior) / apartS;
      const fit = fitExcursion(rise.ramp, fall.ramp, { kind: 'topped', netMps, prior });
      if (fit === null || fit.gain < gain - FAR_WORSE) continue;
      fits.push(fit);
      gain = Math.max(gain, fit.gain);
    }
  }
  return fits;
}

function fallings(window: WhitenedWindow, { middlesS, lengthsS }: Grid, netMps: number): Fit[] {
  const share = FALLING / Math.log(LONGEST_EXCURSION_S / (2 * SHORTEST_EXCURSION_S));
  const each = share * stepOf(middlesS) * stepOf(lengthsS);
  return middlesS.flatMap((atS) => {
    const up = rampOf(window, atS, 0);
    return lengthsS.flatMap((lastsS) => {
      const down = rampOf(window, atS + lastsS / 2, lastsS);
      return fitExcursion(up, down, { kind: 'falling', netMps, prior: each / lastsS }) ?? [];
    });
  });
}

function weighed(fits: readonly Fit[], window: WhitenedWindow): ExcursionPosterior | null {
  const best = bestFit(fits);
  if (best === null) return null;
  const unit = Math.max(1, (window.left - best.gain) / Math.max(1, window.data.length - 7));
  // All sizes of height are alike before looking: dh / h.
  const weights = fits.map(
    ({ gain, prior, heightMps, variance }) =>
      (Math.exp((gain - best.gain) / (2 * unit)) * prior) /
      Math.sqrt(Math.max(1, (heightMps * heightMps) / variance)),
  );
  const least = LEAST_WEIGHT * weights.reduce((a, b) => Math.max(a, b), 0);
  const sum = weights.reduce((a, b) => (b >= least ? a + b : a), 0);
  const members = fits.flatMap((fit, k): Member[] => {
    const weight = weights[k] ?? 0;
    return weight < least ? [] : [{ ...fit, weight: weight / sum, variance: unit * fit.variance }];
  });
  return { members, best, unit };
}

/** Where nearly all weight of one of the numbers lies, and its neighbours on the grid. */
function rangeOf(
  { members }: ExcursionPosterior,
  grid: readonly number[],
  of: (member: Member) => number,
): readonly [number, number] {
  const places = new Map(grid.map((at, place) => [at, place]));
  const sums = new Float64Array(grid.length);
  for (const member of members) {
    const place = places.get(of(member)) ?? 0;
    sums[place] = (sums[place] ?? 0) + member.weight;
  }
  let first = 0;
  let last = grid.length - 1;
  for (let sum = sums[0] ?? 0; first < last && sum < LEFT_OUT; sum += sums[++first] ?? 0);
  for (let sum = sums[last] ?? 0; last > first && sum < LEFT_OUT; sum += sums[--last] ?? 0);
  const low = grid[Math.max(0, first - 1)] ?? 0;
  return [low, Math.max(low + 0.1, grid[Math.min(grid.length - 1, last + 1)] ?? 0)];
}

function trapezoidFits(window: WhitenedWindow, netMps: number): Fit[] {
  const lengthsS = [0, ...pieces(0, LONGEST_RAMP_S, LENGTHS - 1)];
  let [up, down]: [Grid, Grid] = [
    { middlesS: FIRST_MIDDLES_S, lengthsS },
    { middlesS: FIRST_MIDDLES_S, lengthsS },
  ];
  const closer = (posterior: ExcursionPosterior, grid: Grid, of: 'up' | 'down'): Grid => {
    const [fromS, toS] = rangeOf(posterior, grid.middlesS, (member) => member[of].middleS);
    const [shortS, longS] = rangeOf(posterior, grid.lengthsS, (member) => member[of].lastsS);
    const some = pieces(shortS, longS, LENGTHS);
    return {
      middlesS: spaced(fromS, toS, INSTANTS),
      lengthsS: shortS > 0 ? some : [0, ...some],
    };
  };
  let fits = trapezoids(window, up, down, netMps);
  for (let round = 1; round < ROUNDS; round++) {
    const posterior = weighed(fits, window);
    if (posterior === null) break;
    [up, down] = [closer(posterior, up, 'up'), closer(posterior, down, 'down')];
    fits = trapezoids(window, up, down, netMps);
  }
  return fits;
}

function fallingFits(window: WhitenedWindow, netMps: number): Fit[] {
  let grid: Grid = {
    middlesS: FIRST_MIDDLES_S,
    lengthsS: pieces(2 * SHORTEST_EXCURSION_S, LONGEST_EXCURSION_S, INSTANTS),
  };
  let fits = fallings(window, grid, netMps);
  for (let round = 1; round < ROUNDS; round++) {
    const posterior = weighed(fits, window);
    if (posterior === null) break;
    const [fromS, toS] = rangeOf(posterior, grid.middlesS, (member) => member.up.middleS);
    const [shortS, longS] = rangeOf(posterior, grid.lengthsS, (member) => member.down.lastsS);
    grid = {
      middlesS: spaced(fromS, toS, INSTANTS),
      lengthsS: pieces(shortS, longS, INSTANTS),
    };
    fits = fallings(window, grid, netMps);
  }
  return fits;
}

/** The best of a few excursions, their instants whole seconds. */
export function roughExcursion(window: WhitenedWindow, netMps: number): Fit | null {
  const grid = { middlesS: FIRST_MIDDLES_S, lengthsS: [0, 5] };
  return bestFit(trapezoids(window, grid, grid, netMps));
}

/**
 * Weighs all excursions near the middle of a window: trapezoids (flat-topped, rise and fall at once or not)
 * and jumps that are taken back along a straight line; instants and lengths of each, the height integrated
 * over. Before looking each instant is as likely as another, height by its logarithm, and the
 * rate may end `netMps` (1 sd) off. Where the shape is not told, all that explain the data as well keep
 * their weight, so that what they differ by is in the uncertainty. Looked at on grids that close in.
 *
 * Source: Bayesian model averaging; J. A. Hoeting et al., "Bayesian Model Averaging: A Tutorial", Statistical
 * Science 14 (1999) 382, eq. 1. The linear unknowns by conjugate normals.
 */
export function excursionPosterior(
  window: WhitenedWindow,
  netMps: number,
): ExcursionPosterior | null {
  return weighed([...trapezoidFits(window, netMps), ...fallingFits(window, netMps)], window);
}

/** One shape for all: mean height and way, each ramp as long as it lasts and as its place is unknown. */
export function typicalShape({ members }: ExcursionPosterior, middleS: number): ExcursionShape {
  const mean = (of: (member: Member) => number): number =>
    members.reduce((sum, member) => sum + member.weight * of(member), 0);
  const heightMps = mean((m) => m.heightMps);
  const apartS = mean((m) => m.heightMps * (m.down.middleS - m.up.middleS)) / heightMps;
  const centreS = mean((m) => (m.up.middleS + m.down.middleS) / 2);
  const [upS, downS] = [mean((m) => m.up.middleS), mean((m) => m.down.middleS)];
  const smear = (ofS: number, at: (member: Member) => number): number =>
    12 * mean((m) => (at(m) - ofS) ** 2);
  let riseS = Math.sqrt(mean((m) => m.up.lastsS) ** 2 + smear(upS, (m) => m.up.middleS));
  let fallS = Math.sqrt(mean((m) => m.down.lastsS) ** 2 + smear(downS, (m) => m.down.middleS));
  const most = (2 * apartS) / (riseS + fallS);
  if (most < 1) [riseS, fallS] = [riseS * most, fallS * most];
  const atS = middleS + centreS - apartS / 2 - riseS / 2;
  return { atS, riseS, flatS: Math.max(0, apartS - (riseS + fallS) / 2), fallS, heightMps };
}

/** Root mean square of what the shapes, with their heights' errors, differ from one shape at a time, m/s. */
export function rateSpreadMps(
  { members }: ExcursionPosterior,
  atS: number,
  rateMps: number,
): number {
  let sum = 0;
  for (const { up, down, weight, heightMps, variance } of members) {
    const share =
      rampShareFromMiddle(up.lastsS, atS - up.middleS) -
      rampShareFromMiddle(down.lastsS, atS - down.middleS);
    sum += weight * ((heightMps * share - rateMps) ** 2 + variance * share * share);
  }
  return Math.sqrt(sum);
}
