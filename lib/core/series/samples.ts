/** The updates of one channel, and how noisy they are. */
import { meanVarianceShare, slopeVarianceShare } from '../math/noise-shape';
import { medianInPlace } from '../math/statistics';
import { blockNoise, PER_STRIDE, SCATTER_BLOCK } from './block-noise';
import { neighbourCorrelation } from './neighbour-correlation';
import { medianStep } from './row-steps';
import type { NoiseParts } from './slow-noise';
import { roundingSd } from './written-digits';

/**
 * One channel's updates: cells without a value, repeats of a held value and rejected samples are
 * left out. Their noise has a quick part (`sd`, with `correlation` of neighbours) and, where one was told
 * apart, a slow one that hangs together over `slowS`.
 */
export type Samples = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  /** Standard deviation of each one's quick noise. */
  sd: Float64Array;
  /** Correlation of the noise of one update with the next, 0 to 0.9. */
  correlation: number;
  /** Standard deviation of each one's slow noise (a first-order process); `null` for none. */
  slowSd: Float64Array | null;
  /** Its time constant, s. */
  slowS: number;
  /** Median time between updates, s. */
  stepS: number;
}>;

/**
 * Noise is no less than this share of the largest value: of a simulator's 100 m a micrometre, which its integration and the
 * arithmetic here hardly reach, and no interval is then empty. Our own choice.
 */
const LEAST_SHARE = 1e-8;
/** Of the mean square of normal values cut at 3 deviations (`cutVariance`). */
const EFFICIENCY = 0.83;
/**
 * Standard error of one such scatter as a share of it, by the efficiency of `cutVariance`, over every third of the block; and
 * by how much more it errs at either end, where the trend of four goes on.
 */
export const SCATTER_ERROR = 1 / Math.sqrt(2 * EFFICIENCY * Math.floor(SCATTER_BLOCK / PER_STRIDE));
export const END_ERROR = Math.hypot(7 / 6, 1 / 6);

/**
 * Picks the updates out of a column and estimates their noise.
 *
 * Noise is taken from each sample's distance to the line between its neighbours, as a cut mean
 * square over 256 samples (every third of them), so that it follows slow changes of the noise and is not moved
 * by jets or spikes; smooth motion that noise does not hide is taken off by a curve first.
 *
 * @param tS times of the rows, ascending, s
 * @param values the column; NaN = no value
 * @param rejected rows not to use: non-zero where rejected; `null` for none
 * @returns the updates, their noise in the column's unit, and its correlation
 */
export function takeSamples(
  tS: Float64Array,
  values: Float64Array,
  rejected: Uint8Array | null,
): Samples {
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    if (!Number.isNaN(values[i]!) && (rejected === null || rejected[i] === 0)) count++;
  }
  if (count === values.length) return withNoise(tS, values);
  const keptS = new Float64Array(count);
  const kept = new Float64Array(count);
  let k = 0;
  for (let i = 0; i < values.length; i++) {
    if (Number.isNaN(values[i]!) || (rejected !== null && rejected[i] !== 0)) continue;
    keptS[k] = tS[i]!;
    kept[k++] = values[i]!;
  }
  return withNoise(keptS, kept);
}

function withNoise(tS: Float64Array, values: Float64Array): Samples {
  const stepS = medianStep(tS);
  const near = blockNoise(tS, values, stepS);
  // Of the whole column: what moves evenly for a while differs by one size there, whatever its digits.
  const leastSd = Math.max(roundingSd(values), LEAST_SHARE * largestOf(values));
  for (let b = 0; b < near.sd.length; b++) near.sd[b] = Math.max(near.sd[b]!, leastSd);
  const correlation = neighbourCorrelation({ tS, values }, near, { stepS, leastSd });
  const sd = new Float64Array(values.length);
  spreadBlocks(near.sd, raiseOf(correlation), sd);
  return { tS, values, sd, correlation, slowSd: null, slowS: 1, stepS };
}

function largestOf(values: Float64Array): number {
  let size = 0;
  for (let i = 0; i < values.length; i++)
    if (Math.abs(values[i]!) > size) size = Math.abs(values[i]!);
  return size;
}

/** Noise of single samples over that seen against their neighbours, which share some of it. */
function raiseOf(correlation: number): number {
  return Math.sqrt(1.5 / (1.5 - 2 * correlation + 0.5 * correlation * correlation));
}

/** Noise over that against the line between neighbours, the scale in which `NoiseParts` are. */
export function overNeighbourNoise(samples: Samples): number {
  return samples.correlation === 0 ? 1 : raiseOf(samples.correlation);
}

/**
 * Slow noise so many times as large as the quick is no multiple of it: the quick is then rounding, and where jets make more of
 * it they make no slow noise. Our own choice.
 */
const MOST_OVER_QUICK = 100;

/** Scales that the slow part goes with: each sample's own, or the middle one for all. */
function slowScales({ sd }: Samples, { slow, white }: NoiseParts): Float64Array {
  if (slow <= MOST_OVER_QUICK ** 2 * white) return sd;
  const work = sd.slice();
  return new Float64Array(sd.length).fill(medianInPlace(work, work.length));
}

/** The same samples with their noise parted as given; unchanged where there is no slow part. */
export function withParts(samples: Samples, parts: NoiseParts): Samples {
  if (!(parts.slow > 0)) return samples;
  const over = overNeighbourNoise(samples);
  return {
    ...samples,
    sd: samples.sd.map((one) => (one / over) * Math.sqrt(parts.white)),
    correlation: 0,
    slowSd: slowScales(samples, parts).map((one) => (one / over) * Math.sqrt(parts.slow)),
    slowS: parts.timeS,
  };
}

/**
 * Variance of a straight line through samples, at a time.
 *
 * @param index a sample near the time, for the noise there
 * @param quick variance of the line's value over that of one sample, for independent samples
 * @param line length of the fitted stretch, and how far from its middle the value is taken, s
 */
export function lineVariance(
  samples: Samples,
  index: number,
  quick: number,
  line: Readonly<{ lengthS: number; offS: number }>,
): number {
  const sd = samples.sd[index] ?? Number.NaN;
  const variance = sd * sd * Math.min(1, quick * meanVarianceFactor(samples.correlation));
  const slowSd = samples.slowSd?.[index] ?? 0;
  if (slowSd === 0) return variance;
  const u = line.lengthS / samples.slowS;
  const away = line.lengthS > 0 ? line.offS / line.lengthS : 0;
  return (
    variance +
    slowSd * slowSd * Math.min(1.5, meanVarianceShare(u) + away * away * slopeVarianceShare(u))
  );
}

/** Variance of the slope of such a line; `quick` per s2 of the variance of one sample. */
export function slopeVariance(
  samples: Samples,
  index: number,
  quick: number,
  lengthS: number,
): number {
  const sd = samples.sd[index] ?? Number.NaN;
  const variance = sd * sd * quick * meanVarianceFactor(samples.correlation);
  const slowSd = samples.slowSd?.[index] ?? 0;
  if (slowSd === 0 || !(lengthS > 0)) return variance;
  return variance + (slowSd / lengthS) ** 2 * slopeVarianceShare(lengthS / samples.slowS);
}

/**
 * Standard deviation of one sample as white noise that would raise a long mean's variance as much as
 * the noise does.
 */
export function meanNoiseSd(samples: Samples, index: number): number {
  const sd = samples.sd[index] ?? Number.NaN;
  const slowSd = samples.slowSd?.[index] ?? 0;
  const slow = slowSd * slowSd * Math.max(1, (2 * samples.slowS) / samples.stepS);
  return Math.sqrt(sd * sd * meanVarianceFactor(samples.correlation) + slow);
}

/**
 * Relative standard deviation of the variance of the noise, as told by so many updates: a cut mean square
 * of every third one's distance to its neighbours, which are then independent.
 *
 * Source: elementary; of n normal values a mean square's relative variance is 2 / n, here over the efficiency of the cut.
 */
export function noiseVarianceError(updates: number): number {
  return updates > 0 ? Math.sqrt(2 / (EFFICIENCY * (updates / PER_STRIDE))) : 0;
}

/** Noise at either end goes on as over so many blocks there, and to no more than this share off the last one's. Our own choice. */
const TREND_BLOCKS = 4;
const FEWEST_CHANGES = 2;
const MOST_TREND = 0.5;
/** A block that is so many times as noisy as the next is of another sensor. Our own choice; chance makes a fifth more or less. */
const OTHER_SENSOR = 3;

/**
 * By how much noise changes from a block to one beyond the end, as it has done over the blocks there; 0 where that is no trend.
 *
 * @param blocks noise of blocks from an end inwards
 */
function trendAtEnd(blocks: readonly number[]): number {
  const isAlike = (a: number, b: number): boolean => a < OTHER_SENSOR * b && b < OTHER_SENSOR * a;
  const at = (k: number): number => blocks[k] ?? Number.NaN;
  let changes = 0;
  while (changes + 1 < TREND_BLOCKS && isAlike(at(changes), at(changes + 1))) changes++;
  return changes < FEWEST_CHANGES ? 0 : (at(0) - at(changes)) / changes;
}

/**
 * Linear between the middles of blocks, and beyond the first and last as they go on there: noise that grows with the distance
 * is least where an approach ends, at 2 Hz by a third less than in the middle of the last block, 64 s before.
 */
function spreadBlocks(blocks: Float64Array, factor: number, out: Float64Array): void {
  const n = out.length;
  const width = n / blocks.length;
  const last = blocks.length - 1;
  const placeOf = (i: number): number => (i + 0.5) / width - 0.5;
  const beyond = (end: number, change: number, by: number): number => {
    const here = blocks[end]!;
    return factor * (here + Math.max(-MOST_TREND * here, Math.min(MOST_TREND * here, by * change)));
  };
  const early = trendAtEnd([...blocks.subarray(0, TREND_BLOCKS)]);
  const late = trendAtEnd([...blocks.subarray(Math.max(0, last + 1 - TREND_BLOCKS))].reverse());
  let first = 0;
  for (; first < n && placeOf(first) < 0; first++) out[first] = beyond(0, early, -placeOf(first));
  let end = n;
  for (; end > first && placeOf(end - 1) > last; end--)
    out[end - 1] = beyond(last, late, placeOf(end - 1) - last);
  for (let i = first; i < end; i++) {
    const place = (i + 0.5) / width - 0.5;
    const b = Math.floor(place);
    const here = blocks[b]!;
    const next = blocks[Math.min(last, b + 1)]!;
    out[i] = factor * (here + (place - b) * (next - here));
  }
}

/** By how much neighbours' correlation raises the variance of a mean of many samples. */
export function meanVarianceFactor(correlation: number): number {
  return (1 + correlation) / (1 - correlation);
}
