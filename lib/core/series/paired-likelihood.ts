/** How likely the noise of a position and its velocity is, by all of what the offset between them shows. */
import { bendOfSlow } from '../math/noise-shape';
import { type SlowOffset, slowOffsetMisfit } from '../math/offset-smoother';
import { medianInPlace, SD_PER_MAD } from '../math/statistics';
import type { Cell, ScaledColumn } from './bend-cells';
import { neighbourBound, type SlowBound } from './slow-bound';

/** Slow parts of both noises, in units of their scales squared, and their time constants, s. */
export type SlowPair = Readonly<{
  position: number;
  positionS: number;
  velocity: number;
  velocityS: number;
}>;

/** One axis: position less the way travelled, and the middle of its velocity's scale squared. */
export type OffsetAxis = Readonly<{ offset: ScaledColumn; typical2: number }>;

type Steps = Readonly<{ position: number; velocity: number }>;

/** Means of neighbouring rows; more would not tell noise of seconds any better. */
const MOST_ROWS = 1500;
/** A level that changes by this many deviations, from so many means to the next, is a step and no noise. */
const STEP = 5;
const BESIDE = 5;
/** A white part is at least this share of what neighbours show. */
export const LEAST_WHITE = 0.01;
/**
 * Before looking, the logarithm of a time constant is normal, with the mean and the deviation that a level one between
 * 0.7 and 40 s has: one that no data tell apart from a drift does not grow without end.
 */
const MEAN_LOG_S = (Math.log(0.7) + Math.log(40)) / 2;
const SD_LOG_S = Math.log(40 / 0.7) / Math.sqrt(12);
/** None is shorter or longer, s; the longer bound is where a record of minutes shows a drift. Our own choice. */
const SHORTEST_S = 0.3;
const LONGEST_S = 400;

/** An axis's offsets as means of rows, for the filter. */
type Rows = Readonly<{
  tS: Float64Array;
  seen: Float64Array;
  /** Variance of each mean's white noise, and of its slow noise, for shares of 1. */
  white: Float64Array;
  slow: Float64Array;
  typical2: number;
  /** What a try makes of both columns: filled anew by each. */
  tried: Readonly<{ white: Float64Array; slow: Float64Array }>;
}>;

function meanRows({ offset, typical2 }: OffsetAxis): Rows {
  const { tS, values, sd, over } = offset;
  const size = Math.ceil(tS.length / MOST_ROWS);
  const n = Math.floor(tS.length / size);
  const rows = {
    tS: new Float64Array(n),
    seen: new Float64Array(n),
    white: new Float64Array(n),
    slow: new Float64Array(n),
    typical2,
    tried: { white: new Float64Array(n), slow: new Float64Array(n) },
  };
  for (let k = 0; k < n; k++) {
    let [sumT, sum, scale2] = [0, 0, 0];
    for (let i = k * size; i < (k + 1) * size; i++) {
      sumT += tS[i]! / size;
      sum += values[i]! / size;
      scale2 += (sd[i]! / over) ** 2 / size;
    }
    rows.tS[k] = sumT;
    rows.seen[k] = sum;
    rows.white[k] = scale2 / size;
    rows.slow[k] = scale2;
  }
  takeOutSteps(rows.seen, rows.slow);
  return rows;
}

/** Takes steps out: levels that differ from one handful of means to the next by more than noise lets them. */
function takeOutSteps(seen: Float64Array, scale2: Float64Array): void {
  const changes = new Float64Array(seen.length);
  for (let k = BESIDE; k + BESIDE <= seen.length; k++) {
    let change = 0;
    for (let i = 0; i < BESIDE; i++) change += seen[k + i]! - seen[k - 1 - i]!;
    changes[k] = change / BESIDE / Math.sqrt(scale2[k]!);
  }
  const sizes = changes.map(Math.abs);
  const work = sizes.slice();
  const least = STEP * SD_PER_MAD * medianInPlace(work, work.length);
  let sum = 0;
  for (let k = 0; k < seen.length; k++) {
    const isLargest = sizes
      .subarray(Math.max(0, k - BESIDE), k + BESIDE + 1)
      .every((size) => size <= sizes[k]!);
    if (isLargest && sizes[k]! > least) sum += changes[k]! * Math.sqrt(scale2[k]!);
    seen[k] = seen[k]! - sum;
  }
}

/** What neighbours show is white noise and what the slow part changes from one to the next. */
export function whiteBeside(slow: number, timeS: number, stepS: number): number {
  return Math.max(LEAST_WHITE, 1 - slow * bendOfSlow(stepS / timeS));
}

/** Minus the log likelihood of one axis's offsets. */
function offsetMisfit(rows: Rows, pair: SlowPair, stepS: Steps): number {
  const share = whiteBeside(pair.position, pair.positionS, stepS.position);
  const { white, slow } = rows.tried;
  for (let k = 0; k < white.length; k++) {
    white[k] = rows.white[k]! * share;
    slow[k] = rows.slow[k]! * pair.position;
  }
  const walk: SlowOffset = {
    tS: rows.tS,
    seen: rows.seen,
    white,
    slow,
    slowS: pair.positionS,
    drift: { variance: rows.typical2 * pair.velocity, timeS: pair.velocityS },
  };
  const wander =
    rows.typical2 * whiteBeside(pair.velocity, pair.velocityS, stepS.velocity) * stepS.velocity;
  return slowOffsetMisfit(walk, wander) / 2;
}

/** Minus the log likelihood of what the velocity shows by itself. */
function ownMisfit(cells: readonly Cell[], pair: SlowPair, stepS: Steps): number {
  const white = whiteBeside(pair.velocity, pair.velocityS, stepS.velocity);
  return cells.reduce((sum, { lagS, seen, count }) => {
    const model = white + pair.velocity * bendOfSlow(lagS / pair.velocityS);
    return sum + (count / 2) * (Math.log(model) + seen / model);
  }, 0);
}

/** What moves together: sizes and times by themselves, and both of one noise, which short distances hardly tell apart. */
const MOVES: readonly (readonly (keyof SlowPair)[])[] = [
  ['position'],
  ['position', 'positionS'],
  ['positionS'],
  ['velocity'],
  ['velocity', 'velocityS'],
  ['velocityS'],
];
const FIRST_STEP = 0.6;
const LAST_STEP = 0.05;
const MOST_SWEEPS = 60;

/** Minus the log of how likely the time constants are before looking. */
function unlikely({ positionS, velocityS }: SlowPair): number {
  const off = (timeS: number): number => (Math.log(timeS) - MEAN_LOG_S) / SD_LOG_S;
  return (off(positionS) ** 2 + off(velocityS) ** 2) / 2;
}

/**
 * The likeliest slow parts, from a first guess: each number (by its logarithm) is moved by ever smaller steps while
 * that makes what is seen likelier.
 *
 * @param axes the axes of one source, which share the shapes of their noise
 * @param own what the velocity shows by itself, relative to its scale squared
 * @param given time between samples of both, s; the largest parts there is room for; the first guess
 */
export function likeliestPair(
  axes: readonly OffsetAxis[],
  own: readonly Cell[],
  { stepS, bound, first }: Readonly<{ stepS: Steps; bound: SlowBound; first: SlowPair }>,
): SlowPair {
  const rows = axes.map(meanRows);
  const misfitOf = (pair: SlowPair): number =>
    rows.reduce(
      (sum, one) => sum + offsetMisfit(one, pair, stepS),
      ownMisfit(own, pair, stepS) + unlikely(pair),
    );
  const within = ({ position, velocity, ...times }: SlowPair): SlowPair => {
    const positionS = Math.min(times.positionS, LONGEST_S);
    const velocityS = Math.min(times.velocityS, LONGEST_S);
    const ofPosition = Math.min(bound.position, neighbourBound(positionS, stepS.position));
    const ofVelocity = Math.min(
      bound.velocity(velocityS),
      neighbourBound(velocityS, stepS.velocity),
    );
    return {
      position: Math.min(position, ofPosition),
      positionS,
      velocity: Math.min(velocity, ofVelocity),
      velocityS,
    };
  };
  let best = { pair: within(first), misfit: misfitOf(within(first)) };
  let step = FIRST_STEP;
  for (let sweep = 0; sweep < MOST_SWEEPS && step > LAST_STEP; sweep++) {
    let better = false;
    for (const keys of MOVES) {
      for (const sign of [1, -1]) {
        const moved = { ...best.pair };
        for (const key of keys) moved[key] *= Math.exp(sign * step);
        const pair = within(moved);
        if (Math.min(pair.positionS, pair.velocityS) < SHORTEST_S) continue;
        const misfit = misfitOf(pair);
        if (misfit >= best.misfit) continue;
        best = { pair, misfit };
        better = true;
        break;
      }
    }
    if (!better) step /= 2;
  }
  return best.pair;
}
