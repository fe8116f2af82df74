/** Noise that hangs together over seconds, told from how far samples stand off their neighbours. */
import { bendOfSlow, bendOfSlowIntegral } from '../math/noise-shape';
import { medianInPlace } from '../math/statistics';
import { bendCells, type Cell, type ScaledColumn } from './bend-cells';
import { fitVariances, seenRows, type Trial } from './fit-variances';
import { LEAST_WHITE, likeliestPair, whiteBeside } from './paired-likelihood';
import { neighbourBound, slowBound } from './slow-bound';

/**
 * Variances of the two parts of a channel's noise, in units of its scale squared (the noise of single
 * samples against their neighbours): white, and a first-order process of time constant `timeS`.
 */
export type NoiseParts = Readonly<{ white: number; slow: number; timeS: number }>;

const MOST_SORTED = 10_000;
const LONGEST_LAG_S = 64;
/** Velocity by itself is looked at over this long at most: jets make it bend further apart, s. */
const LONGEST_OWN_LAG_S = 8;
/** A position without a velocity beside it, s. */
const LONGEST_BARE_LAG_S = 24;
const TIMES_S = [0.7, 1.5, 3, 6, 12, 20, 40] as const;
/** Time constants tried, doubling up to the longest distance looked at, s. */
const BARE_TIMES_S = [0.75, 1.5, 3, 6, 12, LONGEST_BARE_LAG_S] as const;
/** Parts that are less than this of what neighbours show do not explain it. */
const LEAST_BESIDE = 0.5;
const ALL_WHITE: NoiseParts = { white: 1, slow: 0, timeS: 1 };
/** How much likelier (in log) a slow part has to make what is seen before it is believed. */
const LEAST_GAIN = 4;

/**
 * Noise of positions by themselves, from neighbours up to 24 s apart: the motion must be straight over
 * that for most of the time, and where it bends it counts as slow noise, unless it bends far more from one distance to the
 * next. Motion only ever adds, so the axis that shows the least speaks, with those that show no more than chance would let
 * them. It is no more than goes with how neighbours differ.
 *
 * @param columns the axes of one source, which share the shape of their noise
 * @param stepS time between samples, s
 */
export function noiseParts(columns: readonly ScaledColumn[], stepS: number): NoiseParts {
  const [least, ...others] = columns
    .map((column) => bareNoise(withoutMotion(bendCells(column, stepS, LONGEST_BARE_LAG_S))))
    .sort((a, b) => a.parts.slow - b.parts.slow);
  if (least === undefined) return ALL_WHITE;
  const { parts } = others.reduce((group, one) => {
    const together = bareNoise([...group.cells, ...one.cells]);
    return together.misfit - group.misfit - one.misfit < LEAST_GAIN ? together : group;
  }, least);
  // In coarse digits most bends are none at all: the noise is that of the digits, which the scale holds.
  if (parts.white + parts.slow * bendOfSlow(stepS / parts.timeS) < LEAST_BESIDE) return ALL_WHITE;
  const most = neighbourBound(parts.timeS, stepS);
  if (parts.slow <= most) return parts;
  return { ...parts, white: Math.max(parts.white, LEAST_WHITE), slow: most };
}

/**
 * What is seen of slow noise doubles at most when the distance does, and chance and manoeuvres among it make five times of
 * that; smooth motion alone makes sixteen. Our own choice.
 */
const MOTION_GROWS = 8;

/** Cells up to the distance from which motion shows; neighbours show the scale itself. */
function withoutMotion(cells: readonly Cell[]): readonly Cell[] {
  const typical = typicalCells(cells);
  const moving = typical.findIndex(
    ({ seen }, k) => seen > MOTION_GROWS * (k === 0 ? 1 : (typical[k - 1]?.seen ?? seen)),
  );
  const untilS = typical[moving]?.lagS ?? Number.POSITIVE_INFINITY;
  return cells.filter(({ lagS }) => lagS < untilS / Math.SQRT2);
}

/** Cells with the parts they show, and how badly the likeliest shape explains them. */
type BareNoise = Readonly<{ cells: readonly Cell[]; parts: NoiseParts; misfit: number }>;

function bareNoise(cells: readonly Cell[]): BareNoise {
  if (cells.length === 0) return { cells, parts: ALL_WHITE, misfit: 0 };
  const rows = seenRows(cells);
  const white = Float64Array.from(cells, ({ scale2 }) => scale2);
  const slow = (timeS: number): Float64Array =>
    Float64Array.from(cells, ({ lagS, scale2 }) => scale2 * bendOfSlow(lagS / timeS));
  const alone = fitVariances(rows, [white]);
  const trials = [
    { x: alone.x, misfit: alone.misfit - LEAST_GAIN, timeS: 1 },
    ...BARE_TIMES_S.map((timeS) => ({ ...fitVariances(rows, [white, slow(timeS)]), timeS })),
  ];
  const parts = likelyParts(trials, 0, 1, ({ timeS }) => timeS);
  return { cells, parts, misfit: Math.min(...trials.map(({ misfit }) => misfit)) };
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

/** Columns of parts over the cells of all axes: those of the offsets of an axis, then its own. */
type PairedParts = Readonly<{
  whitePosition: Float64Array;
  whiteVelocity: Float64Array;
  slowPosition: (timeS: number) => Float64Array;
  slowVelocity: (timeS: number) => Float64Array;
}>;

function pairedParts(axes: readonly AxisCells[], stepS: Steps): PairedParts {
  const column = (
    ofOffset: (cell: Cell, typical2: number) => number,
    ofOwn: (cell: Cell) => number,
  ): Float64Array =>
    Float64Array.from(
      axes.flatMap(({ offsets, own, typical2 }) => [
        ...offsets.map((cell) => ofOffset(cell, typical2)),
        ...own.map(ofOwn),
      ]),
    );
  return {
    whitePosition: column(
      ({ scale2 }) => scale2,
      () => 0,
    ),
    whiteVelocity: column(
      ({ lagS }, typical2) => (typical2 * stepS.velocity * lagS) / 3,
      ({ scale2 }) => scale2,
    ),
    slowPosition: (timeS) =>
      column(
        ({ lagS, scale2 }) => scale2 * bendOfSlow(lagS / timeS),
        () => 0,
      ),
    slowVelocity: (timeS) =>
      column(
        ({ lagS }, typical2) => typical2 * bendOfSlowIntegral(lagS, timeS),
        ({ lagS, scale2 }) => scale2 * bendOfSlow(lagS / timeS),
      ),
  };
}

/** Every shape of noise tried: white alone, one slow part, both. */
function pairedTrials(axes: readonly AxisCells[], stepS: Steps): readonly TimedTrial[] {
  const rows = seenRows(axes.flatMap(({ offsets, own }) => [...offsets, ...own]));
  const parts = pairedParts(axes, stepS);
  const white = [parts.whitePosition, parts.whiteVelocity];
  const slowPosition = TIMES_S.map(parts.slowPosition);
  const slowVelocity = TIMES_S.map(parts.slowVelocity);
  const plain = fitVariances(rows, white);
  const trials: TimedTrial[] = [
    { ...plain, misfit: plain.misfit - LEAST_GAIN, positionS: 1, velocityS: 1 },
  ];
  TIMES_S.forEach((timeS, at) => {
    const slow = slowPosition[at]!;
    trials.push({ ...fitVariances(rows, [...white, slow]), positionS: timeS, velocityS: 1 });
    const { x, misfit } = fitVariances(rows, [...white, slowVelocity[at]!]);
    const inPlace = Float64Array.of(x[0]!, x[1]!, 0, x[2]!);
    trials.push({ x: inPlace, misfit, positionS: 1, velocityS: timeS });
    TIMES_S.forEach((velocityS, of) => {
      const both = fitVariances(rows, [...white, slow, slowVelocity[of]!]);
      trials.push({
        x: both.x,
        misfit: both.misfit + LEAST_GAIN,
        positionS: timeS,
        velocityS,
      });
    });
  });
  return trials;
}

/** A slow part with the white one beside it; under a tenth of all it is none. */
function partsOf(slow: number, timeS: number, stepS: number): NoiseParts {
  const white = whiteBeside(slow, timeS, stepS);
  return slow / (slow + white) > LEAST_SLOW
    ? { white, slow, timeS }
    : { white: white + slow, slow: 0, timeS: 1 };
}

/**
 * What cells of all axes show at each distance over their scale squared: the middle one, since motion adds to a
 * few of them. A middle value tells 0.64 of what a mean does; that of a mean of few squares lies under their variance.
 *
 * Source: E. B. Wilson, M. M. Hilferty, "The Distribution of Chi-Square", PNAS 17 (1931) 684: the cube root is
 * nearly normal with mean 1 - 2 / (9 n).
 */
function typicalCells(cells: readonly Cell[]): readonly Cell[] {
  const byLag = new Map<number, Cell[]>();
  for (const cell of cells) {
    const octave = Math.round(Math.log2(cell.lagS));
    byLag.set(octave, [...(byLag.get(octave) ?? []), cell]);
  }
  return [...byLag.values()].map((group): Cell => {
    const shares = Float64Array.from(
      group,
      (cell) => cell.seen / cell.scale2 / (1 - 2 / (9 * Math.max(1, cell.count))) ** 3,
    );
    const count = 0.64 * group.reduce((sum, cell) => sum + cell.count, 0);
    return {
      lagS: group[0]?.lagS ?? 1,
      seen: medianInPlace(shares, shares.length),
      scale2: 1,
      count,
    };
  });
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
    const { sd, over } = velocity;
    const stride = Math.ceil(sd.length / MOST_SORTED);
    const some = new Float64Array(Math.ceil(sd.length / stride));
    for (let k = 0; k < some.length; k++) some[k] = (sd[k * stride] ?? Number.NaN) / over;
    const typical = medianInPlace(some, some.length);
    return {
      offsets: bendCells(offset, stepS.position, LONGEST_LAG_S),
      own: bendCells(velocity, stepS.velocity, LONGEST_OWN_LAG_S),
      typical2: typical * typical,
    };
  });
  const trials = pairedTrials(axes, stepS);
  const position = likelyParts(trials, 0, 2, ({ positionS }) => positionS);
  const velocity = likelyParts(trials, 1, 3, ({ velocityS }) => velocityS);
  if (position.slow === 0 && velocity.slow === 0) return { position, velocity };
  const offsets = columns.map(({ offset }, k) => ({ offset, typical2: axes[k]?.typical2 ?? 0 }));
  const pair = likeliestPair(offsets, typicalCells(axes.flatMap(({ own }) => own)), {
    stepS,
    bound: slowBound(offsets),
    first: {
      position: Math.max(position.slow, 0.05),
      positionS: position.timeS,
      velocity: Math.max(velocity.slow, 0.05),
      velocityS: velocity.timeS,
    },
  });
  return {
    position: partsOf(pair.position, pair.positionS, stepS.position),
    velocity: partsOf(pair.velocity, pair.velocityS, stepS.velocity),
  };
}
