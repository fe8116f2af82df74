/** How well ramps of the rate are known, those close together as one. */
import { solveNormal } from '../math/least-squares';
import { lowerBound } from '../math/search';
import { type Bins, binWayM } from './ramp-bins';
import { type FoundRamps, type RateRamp, REACH_S } from './rate-ramps';

/** Ramps that must be judged together; covariance of [background 2, then size, start, length of each]. */
export type RampCluster = Readonly<{
  ramps: readonly RateRamp[];
  /** From where to where its errors stand in place of the smoothed rate's, s. */
  fromS: number;
  toS: number;
  covariance: Float64Array;
  unknowns: number;
  /** Share of the bin before that its data have taken off. */
  keep: number;
  /** Where its background has its origin, s. */
  middleS: number;
}>;

/** Ramps nearer to each other than this are judged together, s. */
const NEAR_S = 20;
const MOST_TOGETHER = 6;
/** What is supposed of a ramp before looking: size (m/s) and start (s), standard deviations. */
const PRIOR_SIZE_MPS = 0.5;
const PRIOR_START_S = 10;
const STEP_S = 0.05;
/** Standard deviations of its middle that a ramp is smeared over, at least (of a level distribution). */
const SMEAR = Math.sqrt(12);

function groupsOf(ramps: readonly RateRamp[]): RateRamp[][] {
  const groups: RateRamp[][] = [];
  for (const ramp of ramps) {
    const group = groups[groups.length - 1];
    const last = group?.[group.length - 1];
    const isNear = last !== undefined && ramp.atS - (last.atS + last.lastsS) < NEAR_S;
    if (group !== undefined && isNear && group.length < MOST_TOGETHER) group.push(ramp);
    else groups.push([ramp]);
  }
  return groups;
}

function columnsOf({ bins, middleS }: ClusterFit, group: readonly RateRamp[]): Float64Array[] {
  const { tS } = bins;
  const columns = [tS.map(() => 1), tS.map((atS) => (atS - middleS) / REACH_S)];
  for (const { atS, lastsS, sizeMps } of group) {
    const scale = sizeMps / (2 * STEP_S);
    const shorterS = Math.max(STEP_S, lastsS - STEP_S);
    columns.push(
      tS.map((_, i) => binWayM(bins, i, atS, lastsS)),
      tS.map(
        (_, i) =>
          scale * (binWayM(bins, i, atS + STEP_S, lastsS) - binWayM(bins, i, atS - STEP_S, lastsS)),
      ),
      tS.map(
        (_, i) =>
          (sizeMps / (lastsS + STEP_S - shorterS)) *
          (binWayM(bins, i, atS, lastsS + STEP_S) - binWayM(bins, i, atS, shorterS)),
      ),
    );
  }
  return columns;
}

/** The data of a cluster without any of its ramps, and what they are fitted with. */
type ClusterFit = Readonly<{
  /** The bins of its window; their values are left alone. */
  bins: Bins;
  data: Float64Array;
  middleS: number;
  variance: number;
}>;

/** Fits the ramps of a group together about where they stand; covariance and squares left over. */
function linearised(fit: ClusterFit, group: readonly RateRamp[], variance: number) {
  const columns = columnsOf(fit, group);
  const n = columns.length;
  const left = fit.data.slice();
  for (const { atS, lastsS, sizeMps } of group) {
    for (let k = 0; k < left.length; k++) {
      left[k] = (left[k] ?? 0) - sizeMps * binWayM(fit.bins, k, atS, lastsS);
    }
  }
  const priors = [Infinity, Infinity].concat(
    group.flatMap(({ lastsS }) => [PRIOR_SIZE_MPS, PRIOR_START_S, 2 + lastsS / 2]),
  );
  const normal = new Float64Array(n * n);
  const right = new Float64Array(n);
  let square = 0;
  for (let k = 0; k < left.length; k++) {
    const y = left[k] ?? 0;
    square += y * y;
    for (let i = 0; i < n; i++) {
      const a = columns[i]?.[k] ?? 0;
      right[i] = (right[i] ?? 0) + a * y;
      for (let j = 0; j < n; j++) {
        normal[i * n + j] = (normal[i * n + j] ?? 0) + a * (columns[j]?.[k] ?? 0);
      }
    }
  }
  const straight = solveNormal({
    normal: Float64Array.of(normal[0] ?? 0, normal[1] ?? 0, normal[n] ?? 0, normal[n + 1] ?? 0),
    right: right.slice(0, 2),
    square,
  });
  for (let i = 0; i < n; i++) {
    normal[i * n + i] = (normal[i * n + i] ?? 0) + variance / (priors[i] ?? Infinity) ** 2;
  }
  return { solved: solveNormal({ normal, right, square }), left: straight?.residual ?? Infinity };
}

function clusterOf(group: readonly RateRamp[], bins: Bins): RampCluster | null {
  const first = group[0];
  const last = group[group.length - 1];
  if (first === undefined || last === undefined) return null;
  const endS = last.atS + last.lastsS;
  const middleS = (first.atS + endS) / 2;
  const reachS = (endS - first.atS) / 2 + REACH_S;
  const from = lowerBound(bins.tS, middleS - reachS);
  const to = lowerBound(bins.tS, middleS + reachS);
  const inside: Bins = {
    ...bins,
    tS: bins.tS.subarray(from, to),
    beforeS: bins.beforeS.subarray(from, to),
  };
  const data = bins.values.slice(from, to);
  for (const { atS, lastsS, sizeMps } of group) {
    for (let k = 0; k < data.length; k++) {
      data[k] = (data[k] ?? 0) + sizeMps * binWayM(inside, k, atS, lastsS);
    }
  }
  let variance = 0;
  for (let i = from; i < to; i++) variance += (bins.variance[i] ?? 0) / (to - from);
  const fit = { bins: inside, data, middleS, variance };
  const before = linearised(fit, group, variance).left;
  variance = Math.max(variance, before / Math.max(1, data.length - 2 - 3 * group.length));
  // Ramps bend over many bins.
  variance *= bins.smoothShare;
  const { solved } = linearised(fit, group, variance);
  if (solved === null) return null;
  const covariance = solved.covariance.map((each) => variance * each);
  const unknowns = 2 + 3 * group.length;
  const slack = (k: number): number =>
    Math.sqrt(covariance[(3 + 3 * k) * unknowns + 3 + 3 * k] ?? 0);
  return {
    ramps: group,
    fromS: first.atS - slack(0),
    toS: endS + slack(group.length - 1),
    covariance,
    unknowns,
    keep: bins.keep,
    middleS,
  };
}

/** Clusters of ramps with their covariance. */
export function rampClusters({ ramps, bins }: FoundRamps): readonly RampCluster[] {
  return groupsOf(ramps).flatMap((group) => clusterOf(group, bins) ?? []);
}

/** The slopes by which a quantity follows a cluster's unknowns, and which of them are not 0. */
type Slopes = Readonly<{ values: Float64Array; used: Int32Array }>;

/** Noise of a quantity with these slopes; those that are 0 add nothing, and the covariance is symmetric. */
function deviation({ covariance, unknowns }: RampCluster, { values, used }: Slopes): number {
  let count = 0;
  for (let i = 0; i < unknowns; i++) if ((values[i] ?? 0) !== 0) used[count++] = i;
  let variance = 0;
  for (let a = 0; a < count; a++) {
    const i = used[a] ?? 0;
    const row = i * unknowns;
    const slope = values[i] ?? 0;
    let beside = 0;
    for (let b = 0; b < a; b++) {
      const j = used[b] ?? 0;
      beside += (values[j] ?? 0) * (covariance[row + j] ?? 0);
    }
    variance += slope * (2 * beside + slope * (covariance[row + i] ?? 0));
  }
  return Math.sqrt(Math.max(0, variance));
}

/** Standard deviations inside a cluster; one is made for all times of it, since each row asks. */
export type ClusterErrors = Readonly<{
  /** Of the position at a time, m. */
  levelSdM: (atS: number) => number;
  /** Of the rate at a time, m/s. */
  rateSdMps: (atS: number) => number;
}>;

/** Standard deviations of position and rate inside a cluster. */
export function clusterErrors(cluster: RampCluster): ClusterErrors {
  const { unknowns } = cluster;
  const slopes = { values: new Float64Array(unknowns), used: new Int32Array(unknowns) };
  const wide = cluster.ramps.map((_, index) => smearedS(cluster, index));
  const lastRate = { over: Number.NaN, sdMps: Number.NaN };
  return {
    levelSdM: (atS) => {
      levelSlopes(cluster, atS, slopes.values);
      return deviation(cluster, slopes);
    },
    rateSdMps: (atS) => {
      // Between ramps the slopes stay as they are.
      const over = rateSlopes(cluster, wide, atS, slopes.values);
      if (over !== lastRate.over) {
        lastRate.over = over;
        lastRate.sdMps = deviation(cluster, slopes);
      }
      return lastRate.sdMps;
    },
  };
}

function levelSlopes({ ramps, keep, middleS }: RampCluster, atS: number, out: Float64Array): void {
  out[0] = 1 / (1 - keep);
  out[1] = (atS - middleS) / (REACH_S * (1 - keep));
  for (let index = 0; index < ramps.length; index++) {
    const ramp = ramps[index];
    if (ramp === undefined) continue;
    const { lastsS, sizeMps } = ramp;
    const at = 2 + 3 * index;
    const afterS = Math.max(0, atS - ramp.atS);
    const inS = Math.min(afterS, lastsS);
    out[at] = (inS * inS) / (2 * lastsS) + (afterS - inS);
    out[at + 1] = (-sizeMps * inS) / lastsS;
    out[at + 2] = (-sizeMps * inS * inS) / (2 * lastsS * lastsS);
  }
}

/** A ramp shorter than its own place is known is smeared over that, s. */
function smearedS({ ramps, covariance, unknowns }: RampCluster, index: number): number {
  const at = 2 + 3 * index;
  const v = (i: number, j: number): number => covariance[(at + i) * unknowns + at + j] ?? 0;
  const middleVar = v(1, 1) + v(1, 2) + v(2, 2) / 4;
  return Math.max(ramps[index]?.lastsS ?? 0, SMEAR * Math.sqrt(Math.max(0, middleVar)));
}

/** Fills the slopes of the rate; returns which ramps are over, as bits; NaN inside one. */
function rateSlopes(
  { ramps, keep }: RampCluster,
  wide: readonly number[],
  atS: number,
  out: Float64Array,
): number {
  let over = 0;
  out[0] = 0;
  out[1] = 1 / (REACH_S * (1 - keep));
  for (let index = 0; index < ramps.length; index++) {
    const ramp = ramps[index];
    if (ramp === undefined) continue;
    const { lastsS, sizeMps } = ramp;
    const at = 2 + 3 * index;
    const wideS = wide[index] ?? lastsS;
    const share = (atS - (ramp.atS + lastsS / 2 - wideS / 2)) / wideS;
    const isInside = !(share <= 0 || share >= 1);
    if (isInside) over = Number.NaN;
    else if (share >= 1) over += 2 ** index;
    out[at] = Math.min(1, Math.max(0, share));
    out[at + 1] = isInside ? -sizeMps / wideS : 0;
    out[at + 2] = isInside ? (-sizeMps / wideS) * (wideS > lastsS ? 0.5 : share) : 0;
  }
  return over;
}
