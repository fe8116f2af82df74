/** Edges between a hold and a move by the positions beside them, where the rate's noise hides the hold. */
import { mixtureHalfWidth, mixtureMedian, type NormalPart } from '../math/normal-mixture';
import { lowerBound } from '../math/search';
import type { MotionEstimate } from '../motion/motion-estimate';
import type { Samples } from '../series/samples';
import { type WanderingWindow, wanderingWindow } from '../series/wandering-window';
import { dot, type PositionBins, positionBins } from '../series/whitened-window';
import { DECAYS, type EdgeKind, RAMP } from './edge-kinds';

/** An edge of a hold that the rate leaves open for so long is looked for in the positions, s. Our own choice. */
const OPEN_S = 0.5;
/** Positions so far to either side speak, as far as the runs reach, s. */
const LONGEST_REACH_S = 90;
const LEAST_REACH_S = 15;
const BIN_S = 1;
const FEWEST = 10;
/**
 * A hold's rate wanders about none by one of these shares of the hold rate (1 sd), each as likely as another, and hangs
 * together for so long, s. Our own choice; a third or three times the time gives the same edges.
 */
const HOLD_SHARES = [1 / 16, 3 / 16, 1 / 2] as const;
const WANDER_S = 20;
const MIDDLES = 24;
const LENGTHS = 9;
/** Ramps less likely than this change nothing. */
const LEAST_WEIGHT = 1e-7;
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

function rowsOf(samples: Samples, from: number, to: number): Samples {
  const { tS, values, sd, slowSd } = samples;
  return {
    ...samples,
    tS: tS.subarray(from, to),
    values: values.subarray(from, to),
    sd: sd.subarray(from, to),
    slowSd: slowSd?.subarray(from, to) ?? null,
  };
}

/** The range from one time to another as one channel, where all components were measured at once; `null` without positions. */
function rangeSamples(
  { basis, channels, samples }: MotionEstimate,
  fromS: number,
  toS: number,
): Samples | null {
  const [x, y, z] = channels.map((name) => samples.get(name));
  if (x === undefined) return null;
  const from = lowerBound(x.tS, fromS);
  const to = lowerBound(x.tS, toS);
  if (basis === 'range-only') return rowsOf(x, from, to);
  if (basis !== 'position-only' || y === undefined || z === undefined) return null;
  const n = to - from;
  const [tS, values] = [new Float64Array(n), new Float64Array(n)];
  const [sd, slowSd] = [new Float64Array(n), new Float64Array(n)];
  let count = 0;
  let [j, k] = [lowerBound(y.tS, fromS), lowerBound(z.tS, fromS)];
  for (let i = from; i < to; i++) {
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

/** One ramp in one window: what it takes off the squares, the logarithm of its weight before that, its size and edge. */
type Tried = Readonly<{
  of: Wandered;
  ramp: Float64Array;
  middleS: number;
  lastsS: number;
  gain: number;
  logPrior: number;
  /** Rate that the change leads to or comes from, signed, and the variance of that. */
  sizeMps: number;
  sizeVariance: number;
  accelerationMps2: number;
  /** Where the rate passes the hold rate if the change begins (ends) at rest, and how that moves with its size. */
  atS: number;
  perSize: number;
}>;

/** A window with how much the hold's rate may wander in it. */
type Wandered = Readonly<{ window: WanderingWindow; wanderMps: number }>;

/** A change with its instant `middleS` after the middle of the window, of the size that explains most. */
function tried(
  of: Wandered,
  [middleS, lastsS]: readonly [number, number],
  { edge, kind, logCell }: Looked,
): Tried | null {
  const { window } = of;
  const sign = edge.hold === 'before' ? 1 : -1;
  const ramp = window.columnOf((atS) => kind.wayM(lastsS, sign * (atS - middleS)));
  const own = dot(ramp, ramp);
  if (!(own > 0)) return null;
  const sizeMps = dot(ramp, window.data) / own;
  const size = Math.abs(sizeMps);
  const { afterS, perShareS } = kind.passes(lastsS, edge.holdRateMps / size);
  const logPrior = logCell + kind.logPrior(lastsS, size, edge.accelerationMps2);
  return {
    ...{ of, ramp, middleS, lastsS, gain: own * sizeMps * sizeMps - window.left },
    logPrior: logPrior + (window.logWeight - Math.log(own)) / 2,
    ...{ sizeMps, sizeVariance: 1 / own },
    accelerationMps2: kind.accelerationMps2(lastsS, size, edge.holdRateMps),
    atS: middleS + sign * afterS,
    perSize: (-sign * perShareS) / sizeMps,
  };
}

/**
 * Where the rate passes the hold rate, with its variance: the ramp takes over at rest, or at the drift that the data
 * say the hold has there.
 */
function edgesOf(one: Tried): readonly Readonly<{ atS: number; variance: number }>[] {
  const { of, ramp, sizeMps, sizeVariance, accelerationMps2, atS, perSize } = one;
  const { window, wanderMps } = of;
  const column = window.rateColumn(atS);
  const perRamp = dot(column, ramp);
  const driftMps = dot(column, window.data) - perRamp * sizeMps;
  const perDrift = -Math.sign(sizeMps) / accelerationMps2;
  // Of a larger ramp less is left for drift, and that counts for less time.
  const moved = perSize - perDrift * (perRamp + driftMps / sizeMps);
  const driftVariance = Math.max(0, wanderMps * wanderMps - dot(column, column));
  return [
    { atS, variance: perSize * perSize * sizeVariance },
    {
      atS: atS + perDrift * driftMps,
      variance: moved * moved * sizeVariance + perDrift * perDrift * driftVariance,
    },
  ];
}

/** Changes of one kind at an edge, on a grid of such a cell. */
type Looked = Readonly<{ edge: EdgeBeside; kind: EdgeKind; logCell: number }>;

/** All changes of a grid in all windows. */
function triedAll(windows: readonly Wandered[], grid: Grid, of: Omit<Looked, 'logCell'>): Tried[] {
  const { fromS, toS, shortS, longS } = grid;
  const cell = ((toS - fromS) / MIDDLES) * (Math.log(longS / shortS) / LENGTHS);
  const looked = { ...of, logCell: Math.log(cell) };
  const all: Tried[] = [];
  for (const window of windows) {
    for (let i = 0; i < MIDDLES; i++) {
      const middleS = fromS + ((i + 0.5) * (toS - fromS)) / MIDDLES;
      for (let k = 0; k < LENGTHS; k++) {
        const lastsS = shortS * (longS / shortS) ** ((k + 0.5) / LENGTHS);
        const one = tried(window, [middleS, lastsS], looked);
        if (one !== null) all.push(one);
      }
    }
  }
  return all;
}

/** From where to where middles and lengths of ramps are tried, s. */
type Grid = Readonly<{ fromS: number; toS: number; shortS: number; longS: number }>;

/** How likely each of the ramps is; adds to 1. */
function weightsOf(all: readonly Tried[], bins: number): readonly number[] {
  const gain = all.reduce((a, one) => Math.max(a, one.gain), Number.NEGATIVE_INFINITY);
  // Other motion in the window is left over: the data then say so much less.
  const unit = Math.max(1, -gain / Math.max(1, bins - 4));
  const logs = all.map((one) => (one.gain - gain) / (2 * unit) + one.logPrior);
  const best = logs.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const shares = logs.map((log) => Math.exp(log - best));
  const sum = shares.reduce((a, b) => a + b, 0);
  return shares.map((share) => share / sum);
}

/** The grid of where nearly all weight lies. */
function closer(all: readonly Tried[], weights: readonly number[], grid: Grid): Grid {
  // A grid too coarse for the data leaves one of its points all the weight: its neighbours stay in.
  const around = (of: (one: Tried) => number, step: number): readonly [number, number] => {
    const mean = all.reduce((a, one, k) => a + (weights[k] ?? 0) * of(one), 0);
    const square = all.reduce((a, one, k) => a + (weights[k] ?? 0) * (of(one) - mean) ** 2, 0);
    const reach = 4 * Math.sqrt(square) + step;
    return [mean - reach, mean + reach];
  };
  const { fromS, toS, shortS, longS } = grid;
  const middles = around((one) => one.middleS, (toS - fromS) / MIDDLES);
  const lengths = around((one) => Math.log(one.lastsS), Math.log(longS / shortS) / LENGTHS);
  return {
    fromS: Math.max(fromS, middles[0]),
    toS: Math.min(toS, middles[1]),
    shortS: Math.max(shortS, Math.exp(lengths[0])),
    longS: Math.min(longS, Math.exp(lengths[1])),
  };
}

/** All changes of one kind where nearly all their weight lies. */
function likeliest(windows: readonly Wandered[], edge: EdgeBeside, kind: EdgeKind): Tried[] {
  const { reachS } = edge;
  const bins = windows[0]?.window.data.length ?? 0;
  const [shortS, longS] = kind.lengthsS(reachS);
  let grid: Grid = { fromS: -0.9 * reachS, toS: 0.9 * reachS, shortS, longS };
  let all: Tried[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    if (round > 0) grid = closer(all, weightsOf(all, bins), grid);
    all = triedAll(windows, grid, { edge, kind });
  }
  return all;
}

/** The edge over all changes, in the middle of what is likely, after the middle of the windows. */
function weighed(windows: readonly Wandered[], edge: EdgeBeside): EdgePlace {
  const bins = windows[0]?.window.data.length ?? 0;
  // A vehicle sinks into a hold, and leaves it by its jets.
  const kinds = edge.hold === 'after' ? [RAMP, ...DECAYS] : [RAMP];
  const all = kinds.flatMap((kind) => likeliest(windows, edge, kind));
  const weights = weightsOf(all, bins);
  // The one as likely as the other.
  const parts = all.flatMap((one, k): NormalPart[] => {
    const weight = (weights[k] ?? 0) / 2;
    if (weight < LEAST_WEIGHT) return [];
    return edgesOf(one).map(({ atS, variance }) => ({
      weight,
      apart: atS,
      sd: Math.sqrt(variance),
    }));
  });
  const atS = mixtureMedian(parts);
  return { atS, halfS: mixtureHalfWidth(parts.map((one) => ({ ...one, apart: one.apart - atS }))) };
}

/**
 * Where a hold ends or begins, by the positions on its two sides: a level from which the way of a wandering rate leads
 * away, and a ramp of the rate at about the plan's acceleration, or into a hold a decay (`edge-kinds.ts`); place, length and size
 * of it are free, and all that explain the positions are weighed, with each amount that the rate may wander by. Positions that clearly part tell an edge
 * although every rate of the hold is within its noise of the hold rate.
 *
 * @param motion the estimated motion, its rate from positions
 * @param edge as the rate has it
 * @returns where the rate passes the hold rate, half of what is likely before it, with its 95 % half-width, s; `null`
 *   where the runs beside are short or the positions tell nothing
 *
 * Source: Bayesian model averaging; J. A. Hoeting et al., "Bayesian Model Averaging: A Tutorial", Statistical
 * Science 14 (1999) 382, eq. 1. The linear unknowns by conjugate normals.
 */
export function edgeByPosition(motion: MotionEstimate, edge: EdgeBeside): EdgePlace | null {
  const reachS = Math.min(edge.reachS, LONGEST_REACH_S);
  if (reachS < LEAST_REACH_S) return null;
  const samples = rangeSamples(motion, edge.atS - reachS, edge.atS + reachS);
  if (samples === null) return null;
  const bins: PositionBins = positionBins(samples, { from: 0, to: samples.tS.length }, BIN_S);
  const windows = HOLD_SHARES.flatMap((share): Wandered[] => {
    const wander = { sdMps: share * edge.holdRateMps, timeS: WANDER_S };
    const window = wanderingWindow(bins, edge.atS, { reachS, fewest: FEWEST, wander });
    return window === null ? [] : [{ window, wanderMps: wander.sdMps }];
  });
  if (windows.length === 0) return null;
  const { atS, halfS } = weighed(windows, { ...edge, reachS });
  // Both runs last on beside it.
  return halfS < reachS && Math.abs(atS) < reachS ? { atS: edge.atS + atS, halfS } : null;
}

type Run = Readonly<{ motion: string; startS: number; endS: number }>;

/**
 * Where the positions put an edge between two runs that the rate leaves open.
 *
 * @param of the plan's numbers and the 95 % half-width that the rate gives the edge, s
 * @returns the edge; `null` where the rate knows it well, no hold or a crossing is beside it, or the positions tell nothing
 */
export function openEdge(
  motion: MotionEstimate,
  before: Run,
  run: Run,
  of: Readonly<{ holdRateMps: number; accelerationMps2: number; halfS: number }>,
): EdgePlace | null {
  // Where a crossing begins or ends the range tells nothing.
  if (before.motion === 'crossing' || run.motion === 'crossing') return null;
  const [holdBefore, holdAfter] = [before.motion === 'hold', run.motion === 'hold'];
  // Of positions with hardly any noise the rate itself tells more.
  if (!motion.rateIsDerived || motion.rateLinesS !== null) return null;
  if (of.halfS < OPEN_S || holdBefore === holdAfter) return null;
  const { holdRateMps, accelerationMps2 } = of;
  const atS = run.startS;
  const reachS = Math.min(atS - before.startS, run.endS - atS);
  const hold = holdBefore ? 'before' : 'after';
  return edgeByPosition(motion, { atS, reachS, hold, holdRateMps, accelerationMps2 });
}
