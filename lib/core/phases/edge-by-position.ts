/** Edges between a hold and a move by the positions beside them, where the rate's noise hides the hold. */
import { NORMAL_95 } from '../math/statistics';
import { rampWayFromMiddleM } from '../motion/excursion-shape';
import type { MotionEstimate } from '../motion/motion-estimate';
import type { Samples } from '../series/samples';
import {
  dot,
  type PositionBins,
  positionBins,
  type WhitenedWindow,
  whitenedWindow,
} from '../series/whitened-window';

/** An edge of a hold that the rate leaves open for so long is looked for in the positions, s. Our own choice. */
const OPEN_S = 3;
/** Positions so far to either side speak, as far as the runs reach, s. */
const LONGEST_REACH_S = 90;
const LEAST_REACH_S = 15;
const BIN_S = 1;
const FEWEST = 10;
/** How far the acceleration may be from the plan's: the standard deviation of its logarithm. Our own choice. */
const LOG_ACCELERATION_SD = 0.5;
/** The hold's own rate is this share of the hold rate (1 sd). */
const HOLD_SHARE = 0.5;
const INSTANTS = 24;
const LENGTHS = 9;
const ROUNDS = 3;

type EdgePlace = Readonly<{ atS: number; halfS: number }>;

/** An edge as the rate has it, with how far to either side the two runs reach. */
type EdgeBeside = Readonly<{
  atS: number;
  reachS: number;
  /** The hold is before it or after it. */
  hold: 'before' | 'after';
  holdRateMps: number;
  accelerationMps2: number;
}>;

/** The range as one channel, where all components were measured at once; `null` without positions. */
function rangeSamples({ basis, channels, samples }: MotionEstimate): Samples | null {
  const [x, y, z] = channels.map((name) => samples.get(name));
  if (x === undefined) return null;
  if (basis !== 'position-only') return basis === 'range-only' ? x : null;
  if (y === undefined || z === undefined) return null;
  const n = x.tS.length;
  const [tS, values] = [new Float64Array(n), new Float64Array(n)];
  const [sd, slowSd] = [new Float64Array(n), new Float64Array(n)];
  let count = 0;
  let [j, k] = [0, 0];
  for (let i = 0; i < n; i++) {
    const atS = x.tS[i] ?? Number.NaN;
    while ((y.tS[j] ?? atS) < atS) j++;
    while ((z.tS[k] ?? atS) < atS) k++;
    if (y.tS[j] !== atS || z.tS[k] !== atS) continue;
    const at = [x.values[i] ?? 0, y.values[j] ?? 0, z.values[k] ?? 0] as const;
    const rangeM = Math.max(Math.hypot(...at), 1e-9);
    const along = (ofX: number, ofY: number, ofZ: number): number =>
      Math.hypot(at[0] * ofX, at[1] * ofY, at[2] * ofZ) / rangeM;
    tS[count] = atS;
    values[count] = rangeM;
    sd[count] = along(x.sd[i] ?? 0, y.sd[j] ?? 0, z.sd[k] ?? 0);
    slowSd[count] = along(x.slowSd?.[i] ?? 0, y.slowSd?.[j] ?? 0, z.slowSd?.[k] ?? 0);
    count++;
  }
  const [rows, rangesM] = [tS.subarray(0, count), values.subarray(0, count)];
  return { ...x, tS: rows, values: rangesM, sd, slowSd };
}

/** One ramp from rest: what it takes off the squares, the logarithm of its weight before that, its edge, that one's variance. */
type Tried = Readonly<{
  startS: number;
  lastsS: number;
  gain: number;
  logPrior: number;
  atS: number;
  variance: number;
}>;

/** A ramp that begins (ends, after a move) `startS` after the middle of the window. */
function tried(
  window: WhitenedWindow,
  rate: Float64Array,
  [startS, lastsS]: readonly [number, number],
  edge: EdgeBeside,
): Tried | null {
  const sign = edge.hold === 'before' ? 1 : -1;
  const ramp = window.columnOf((atS) =>
    rampWayFromMiddleM(lastsS, sign * (atS - startS) - lastsS / 2),
  );
  const holdSdMps = HOLD_SHARE * edge.holdRateMps;
  const [rr, rs, ss] = [dot(rate, rate) + 1 / holdSdMps ** 2, dot(rate, ramp), dot(ramp, ramp)];
  const [r, s] = [dot(rate, window.data), dot(ramp, window.data)];
  const own = ss - (rs * rs) / rr;
  if (!(own > 1e-9 * ss)) return null;
  const sizeM = (s - (rs / rr) * r) / own;
  const accelerationMps2 = Math.abs(sizeM) / lastsS;
  const off = Math.log(accelerationMps2 / edge.accelerationMps2) / LOG_ACCELERATION_SD;
  const gain = own * sizeM * sizeM + (r * r) / rr;
  return {
    ...{ startS, lastsS, gain },
    logPrior: -(off * off + Math.log(own)) / 2,
    atS: startS + (sign * edge.holdRateMps) / accelerationMps2,
    variance: (holdSdMps / accelerationMps2) ** 2,
  };
}

function mean(
  all: readonly Tried[],
  weights: readonly number[],
  of: (one: Tried) => number,
): number {
  const sum = weights.reduce((a, b) => a + b, 0);
  return all.reduce((a, one, k) => a + (weights[k] ?? 0) * of(one), 0) / sum;
}

/** Mean and standard deviation of the edge over all ramps, on a grid that closes in. */
function weighed(
  window: WhitenedWindow,
  edge: EdgeBeside,
): Readonly<{ atS: number; sdS: number }> | null {
  const rate = window.columnOf((atS) => atS);
  let [lowS, highS] = [-0.9 * edge.reachS, 0.9 * edge.reachS];
  let [shortS, longS] = [1, 4 * edge.reachS];
  let out: { atS: number; sdS: number } | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    const all: Tried[] = [];
    for (let i = 0; i < INSTANTS; i++) {
      const startS = lowS + ((i + 0.5) * (highS - lowS)) / INSTANTS;
      for (let k = 0; k < LENGTHS; k++) {
        const lastsS = shortS * (longS / shortS) ** ((k + 0.5) / LENGTHS);
        const one = tried(window, rate, [startS, lastsS], edge);
        if (one !== null) all.push(one);
      }
    }
    const gain = all.reduce((a, one) => Math.max(a, one.gain), 0);
    // Other motion in the window is left over: the data then say so much less.
    const unit = Math.max(1, (window.left - gain) / Math.max(1, window.data.length - 4));
    const logs = all.map((one) => (one.gain - gain) / (2 * unit) + one.logPrior);
    const best = logs.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
    const weights = logs.map((log) => Math.exp(log - best));
    const atS = mean(all, weights, (one) => one.atS);
    const square = mean(all, weights, (one) => (one.atS - atS) ** 2 + one.variance);
    out = { atS, sdS: Math.sqrt(square) };
    // A grid too coarse for the data leaves one of its points all the weight: its neighbours stay in.
    const around = (of: (one: Tried) => number, step: number): readonly [number, number] => {
      const middle = mean(all, weights, of);
      const sd = Math.sqrt(mean(all, weights, (one) => (of(one) - middle) ** 2));
      return [middle - 4 * sd - step, middle + 4 * sd + step];
    };
    const starts = around((one) => one.startS, (highS - lowS) / INSTANTS);
    const lengths = around((one) => Math.log(one.lastsS), Math.log(longS / shortS) / LENGTHS);
    [lowS, highS] = [Math.max(lowS, starts[0]), Math.min(highS, starts[1])];
    [shortS, longS] = [
      Math.max(shortS, Math.exp(lengths[0])),
      Math.min(longS, Math.exp(lengths[1])),
    ];
  }
  return out;
}

/**
 * Where a hold ends or begins, by the positions on its two sides: a level that may drift a little, then a ramp of the
 * rate at about the plan's acceleration; instant, length and size are free and all that explain the positions are weighed.
 * Positions that clearly part tell an edge although every rate of the hold is within its noise of the hold rate.
 *
 * @param motion the estimated motion, its rate from positions
 * @param edge as the rate has it
 * @returns where the rate passes the hold rate, with its 95 % half-width, s; `null` where the runs
 *   beside are short or the positions tell nothing
 *
 * Source: Bayesian model averaging; J. A. Hoeting et al., "Bayesian Model Averaging: A Tutorial", Statistical
 * Science 14 (1999) 382, eq. 1. The linear unknowns by conjugate normals.
 */
export function edgeByPosition(motion: MotionEstimate, edge: EdgeBeside): EdgePlace | null {
  const samples = rangeSamples(motion);
  const reachS = Math.min(edge.reachS, LONGEST_REACH_S);
  if (samples === null || reachS < LEAST_REACH_S) return null;
  const bins: PositionBins = positionBins(samples, { from: 0, to: samples.tS.length }, BIN_S);
  const window = whitenedWindow(bins, edge.atS, { reachS, fewest: FEWEST, powers: [0] });
  if (window === null) return null;
  const found = weighed(window, { ...edge, reachS });
  if (found === null || !(found.sdS < reachS / 2)) return null;
  return { atS: edge.atS + found.atS, halfS: NORMAL_95 * found.sdS };
}

type Run = Readonly<{ motion: string; startS: number; endS: number }>;

/**
 * Where the positions put an edge between two runs that the rate leaves open.
 *
 * @param of the plan's numbers and the 95 % half-width that the rate gives the edge, s
 * @returns the edge; `null` where the rate knows it well, no hold is beside it, or the positions know it no better
 */
export function openEdge(
  motion: MotionEstimate,
  before: Run,
  run: Run,
  of: Readonly<{ holdRateMps: number; accelerationMps2: number; halfS: number }>,
): EdgePlace | null {
  const [holdBefore, holdAfter] = [before.motion === 'hold', run.motion === 'hold'];
  if (!motion.rateIsDerived || of.halfS < OPEN_S || holdBefore === holdAfter) return null;
  const { holdRateMps, accelerationMps2 } = of;
  const atS = run.startS;
  const reachS = Math.min(atS - before.startS, run.endS - atS);
  const hold = holdBefore ? 'before' : 'after';
  const place = edgeByPosition(motion, { atS, reachS, hold, holdRateMps, accelerationMps2 });
  return place !== null && place.halfS < of.halfS ? place : null;
}
