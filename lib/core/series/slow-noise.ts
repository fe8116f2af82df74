/** Noise that hangs together over seconds, told from how far samples stand off their neighbours. */
import { bendOfSlow, bendOfSlowIntegral } from '../math/noise-shape';
import { medianInPlace, SD_PER_MAD } from '../math/statistics';

/**
 * Variances of the two parts of a channel's noise, in units of its scale squared (the noise of single
 * samples against their neighbours): white, and a first-order process of time constant `timeS`.
 */
export type NoiseParts = Readonly<{ white: number; slow: number; timeS: number }>;

/** A column of samples with the local scale of their noise. */
export type ScaledColumn = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  scale: Float64Array;
}>;

/** What is measured at one distance of neighbours in one group of samples. */
type Cell = Readonly<{
  lagS: number;
  /** Variance of the distance to the middle of two neighbours, white noise's being its own. */
  seen: number;
  /** Mean scale squared of the samples. */
  scale2: number;
  /** Independent distances in it. */
  count: number;
}>;

/** One unknown variance's part in a cell. */
type Row = Readonly<{ parts: readonly number[]; seen: number; count: number }>;

const MOST_IN_CELL = 400;
const MOST_SORTED = 10_000;
const FEWEST_IN_CELL = 12;
const LONGEST_LAG_S = 64;
const GROUPS = 8;
/** Distances beyond this many robust deviations are motion, not noise. */
const CUT = 2.5;
/** Variance of a normal variable cut at `CUT` deviations, over its own. */
const CUT_SHARE = 0.91126;
/** Velocity by itself is looked at over this long at most: jets make it bend further apart, s. */
const LONGEST_OWN_LAG_S = 8;
/** A position without a velocity beside it, s. */
const LONGEST_BARE_LAG_S = 24;
const TIMES_S = [0.7, 1.5, 3, 6, 12, 20, 40] as const;
const BARE_TIMES_S = [0.7, 1.5, 3, 6, 12, 20] as const;
/** How much likelier (in log) a slow part has to make what is seen before it is believed. */
const LEAST_GAIN = 4;

/** The cells of a column at doubling distances. */
export function bendCells(column: ScaledColumn, stepS: number, longestS: number): readonly Cell[] {
  const { tS } = column;
  const n = tS.length;
  const wholeS = (tS[n - 1] ?? 0) - (tS[0] ?? 0);
  const cells: Cell[] = [];
  for (let rows = 1; rows * stepS <= Math.min(longestS, wholeS / 8); rows *= 2) {
    const groups = Math.max(1, Math.min(GROUPS, Math.floor(wholeS / (16 * rows * stepS))));
    for (let g = 0; g < groups; g++) {
      const cell = bendCell(column, rows, [
        Math.floor((g * n) / groups),
        Math.floor(((g + 1) * n) / groups),
      ]);
      if (cell !== null) cells.push(cell);
    }
  }
  return cells;
}

function bendCell(
  { tS, values, scale }: ScaledColumn,
  rows: number,
  [from, to]: readonly [number, number],
): Cell | null {
  const work = new Float64Array(MOST_IN_CELL + 1);
  const stride = Math.max(1, Math.ceil((to - from) / MOST_IN_CELL));
  let count = 0;
  let scale2 = 0;
  let lagSum = 0;
  for (let i = from + rows; i + rows < to; i += stride) {
    const [t0, t1, t2] = [tS[i - rows]!, tS[i]!, tS[i + rows]!];
    const weight = (t1 - t0) / (t2 - t0);
    if (!(Math.abs(weight - 0.5) < 0.1)) continue;
    const between = values[i - rows]! + weight * (values[i + rows]! - values[i - rows]!);
    const off = Math.abs(values[i]! - between);
    if (Number.isNaN(off)) continue;
    work[count++] = off;
    scale2 += scale[i]! * scale[i]!;
    lagSum += (t2 - t0) / 2;
  }
  if (count < FEWEST_IN_CELL) return null;
  return {
    lagS: lagSum / count,
    seen: cutVariance(work, count) / 1.5,
    scale2: scale2 / count,
    count: Math.min(count, (to - from) / (1.5 * rows)),
  };
}

/** Mean square of what lies within `CUT` robust deviations, with what a normal variable loses so. */
function cutVariance(sizes: Float64Array, count: number): number {
  const cut = CUT * SD_PER_MAD * medianInPlace(sizes, count);
  let sum = 0;
  let kept = 0;
  for (let i = 0; i < count; i++) {
    if (sizes[i]! > cut) continue;
    sum += sizes[i]! * sizes[i]!;
    kept++;
  }
  return sum / (kept * CUT_SHARE);
}

const ROUNDS = 60;

/** Unknowns a fit has at most; with fewer the others have no part in any row and stay 0. */
const UNKNOWNS = 4;

/** Rows as columns of numbers, `UNKNOWNS` parts a row. */
type FlatRows = Readonly<{ part: Float64Array; count: Float64Array; seen: Float64Array }>;

function flatten(rows: readonly Row[]): FlatRows {
  const part = new Float64Array(rows.length * UNKNOWNS);
  rows.forEach(({ parts }, row) => {
    for (let k = 0; k < parts.length; k++) part[row * UNKNOWNS + k] = parts[k]!;
  });
  return {
    part,
    count: Float64Array.from(rows, (row) => row.count),
    seen: Float64Array.from(rows, (row) => row.seen),
  };
}

/** One round of the multiplying: `x` is changed. */
function improve({ part, count, seen }: FlatRows, x: Float64Array): void {
  // Written out, since some sixty fits of a flight go sixty times over every row.
  const [x0, x1, x2, x3] = [x[0]!, x[1]!, x[2]!, x[3]!];
  let [up0, up1, up2, up3, down0, down1, down2, down3] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (let row = 0, at = 0; row < count.length; row++, at += UNKNOWNS) {
    const p0 = part[at]!;
    const p1 = part[at + 1]!;
    const p2 = part[at + 2]!;
    const p3 = part[at + 3]!;
    const inverse = 1 / (1e-300 + x0 * p0 + x1 * p1 + x2 * p2 + x3 * p3);
    const down = count[row]! * inverse;
    const up = down * seen[row]! * inverse;
    up0 += up * p0;
    up1 += up * p1;
    up2 += up * p2;
    up3 += up * p3;
    down0 += down * p0;
    down1 += down * p1;
    down2 += down * p2;
    down3 += down * p3;
  }
  x[0] = down0 > 0 ? (x0 * up0) / down0 : 0;
  x[1] = down1 > 0 ? (x1 * up1) / down1 : 0;
  x[2] = down2 > 0 ? (x2 * up2) / down2 : 0;
  x[3] = down3 > 0 ? (x3 * up3) / down3 : 0;
}

/** Non-negative weights that explain the rows best (gamma likelihood), by multiplying up and down. */
function fitVariances(rows: readonly Row[], unknowns: number): { x: number[]; misfit: number } {
  const x = new Float64Array(UNKNOWNS);
  for (let k = 0; k < unknowns; k++) {
    const sizes = rows.map(({ parts, seen }) => seen / Math.max(parts[k] ?? 0, 1e-300));
    x[k] = Math.max(1e-300, Math.min(...sizes.filter((size) => size > 0), 1e300)) / unknowns;
  }
  const flat = flatten(rows);
  for (let round = 0; round < ROUNDS; round++) improve(flat, x);
  let misfit = 0;
  for (const { parts, seen, count } of rows) {
    let model = 1e-300;
    for (let k = 0; k < unknowns; k++) model += x[k]! * parts[k]!;
    misfit += (count / 2) * (Math.log(model) + seen / model);
  }
  return { x: [...x.subarray(0, unknowns)], misfit };
}

type Trial = Readonly<{ x: readonly number[]; misfit: number }>;

/** Fits some of the four unknowns (position white, velocity white, position slow, velocity slow). */
function fitSome(rows: readonly Row[], kept: readonly number[]): Trial {
  const some = rows.map((row) => ({ ...row, parts: kept.map((k) => row.parts[k] ?? 0) }));
  const { x, misfit } = fitVariances(some, kept.length);
  const all = [0, 0, 0, 0];
  kept.forEach((k, at) => {
    all[k] = x[at] ?? 0;
  });
  return { x: all, misfit };
}

/**
 * Noise of positions by themselves, from neighbours up to 24 s apart: the motion must be straight over
 * that for most of the time, and where it bends it counts as slow noise. Motion only ever adds, so
 * the axis that shows the least speaks for all.
 *
 * @param columns the axes of one source, which share the shape of their noise
 * @param stepS time between samples, s
 */
export function noiseParts(columns: readonly ScaledColumn[], stepS: number): NoiseParts {
  const each = columns.map((column) => ownParts(column, stepS));
  return each.reduce((a, b) => (b.slow < a.slow ? b : a));
}

function ownParts(column: ScaledColumn, stepS: number): NoiseParts {
  const cells = bendCells(column, stepS, LONGEST_BARE_LAG_S);
  const rowsFor = (timeS: number): Row[] =>
    cells.map(({ lagS, seen, scale2, count }) => ({
      parts: [scale2, scale2 * bendOfSlow(lagS / timeS)],
      seen,
      count,
    }));
  const alone = fitSome(rowsFor(1), [0]);
  const trials = [
    { x: alone.x, misfit: alone.misfit - LEAST_GAIN, timeS: 1 },
    ...BARE_TIMES_S.map((timeS) => ({ ...fitSome(rowsFor(timeS), [0, 1]), timeS })),
  ];
  return likelyParts(
    trials.map(({ x, ...rest }) => ({ x: [x[0] ?? 0, x[1] ?? 0], ...rest })),
    0,
    1,
    ({ timeS }) => timeS,
  );
}

type TimedTrial = Trial & Readonly<{ positionS: number; velocityS: number }>;

/** A share under this is none. */
const LEAST_SLOW = 0.1;

/** Parts averaged over all trials by how likely each is: one time constant alone is seldom certain. */
function likelyParts<T extends Trial>(
  trials: readonly T[],
  white: number,
  slow: number,
  timeOf: (trial: T) => number,
): NoiseParts {
  const least = Math.min(...trials.map(({ misfit }) => misfit));
  const sums = { weight: 0, white: 0, slow: 0, time: 0 };
  for (const trial of trials) {
    const weight = Math.exp(least - trial.misfit);
    sums.weight += weight;
    sums.white += weight * (trial.x[white] ?? 0);
    sums.slow += weight * (trial.x[slow] ?? 0);
    sums.time += weight * (trial.x[slow] ?? 0) * timeOf(trial);
  }
  const share = sums.slow / (sums.slow + sums.white);
  return share > LEAST_SLOW
    ? {
        white: sums.white / sums.weight,
        slow: sums.slow / sums.weight,
        timeS: sums.time / sums.slow,
      }
    : { white: (sums.white + sums.slow) / sums.weight, slow: 0, timeS: 1 };
}

/** One axis: position less travelled way, and velocity, each with its scale. */
export type PairedColumns = Readonly<{ offset: ScaledColumn; velocity: ScaledColumn }>;

/** The parts of a position's noise and of the noise of the velocity measured beside it. */
export type PairedNoise = Readonly<{ position: NoiseParts; velocity: NoiseParts }>;

/** What one axis shows; `typical2` is the middle of its velocity's scale squared. */
type AxisCells = Readonly<{ offsets: readonly Cell[]; own: readonly Cell[]; typical2: number }>;

type Steps = Readonly<{ position: number; velocity: number }>;

function pairedRows(
  axes: readonly AxisCells[],
  stepS: Steps,
  positionS: number,
  velocityS: number,
): readonly Row[] {
  return axes.flatMap(({ offsets, own, typical2 }) => [
    ...offsets.map(({ lagS, seen, scale2, count }) => ({
      parts: [
        scale2,
        (typical2 * stepS.velocity * lagS) / 3,
        scale2 * bendOfSlow(lagS / positionS),
        typical2 * bendOfSlowIntegral(lagS, velocityS),
      ],
      seen,
      count,
    })),
    ...own.map(({ lagS, seen, scale2, count }) => ({
      parts: [0, scale2, 0, scale2 * bendOfSlow(lagS / velocityS)],
      seen,
      count,
    })),
  ]);
}

/**
 * Noise of positions and of their velocities together: from the position less the way that the velocity
 * travels (up to 64 s apart), which is free of the motion, and from the velocity by itself up to 8 s
 * apart.
 *
 * @param columns the axes of one source, which share the shapes of their noise
 * @param stepS time between samples of each, s
 */
export function pairedNoise(columns: readonly PairedColumns[], stepS: Steps): PairedNoise {
  const axes = columns.map(({ offset, velocity }): AxisCells => {
    const stride = Math.ceil(velocity.scale.length / MOST_SORTED);
    const some = velocity.scale.filter((_, i) => i % stride === 0);
    const typical = medianInPlace(some, some.length);
    return {
      offsets: bendCells(offset, stepS.position, LONGEST_LAG_S),
      own: bendCells(velocity, stepS.velocity, LONGEST_OWN_LAG_S),
      typical2: typical * typical,
    };
  });
  const plain = fitSome(pairedRows(axes, stepS, 1, 1), [0, 1]);
  const trials: TimedTrial[] = [
    { ...plain, misfit: plain.misfit - LEAST_GAIN, positionS: 1, velocityS: 1 },
  ];
  const take = (positionS: number, velocityS: number, kept: readonly number[], price: number) => {
    const { x, misfit } = fitSome(pairedRows(axes, stepS, positionS, velocityS), kept);
    trials.push({ x, misfit: misfit + price, positionS, velocityS });
  };
  for (const timeS of TIMES_S) {
    take(timeS, 1, [0, 1, 2], 0);
    take(1, timeS, [0, 1, 3], 0);
    for (const velocityS of TIMES_S) take(timeS, velocityS, [0, 1, 2, 3], LEAST_GAIN);
  }
  return {
    position: likelyParts(trials, 0, 2, ({ positionS }) => positionS),
    velocity: likelyParts(trials, 1, 3, ({ velocityS }) => velocityS),
  };
}
