/** The updates of one channel, and how noisy they are. */
import { meanVarianceShare, slopeVarianceShare } from '../math/noise-shape';
import { medianInPlace, SD_PER_MAD } from '../math/statistics';
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

/** Samples over which one scatter is told. */
export const SCATTER_BLOCK = 256;
const FAR_LAG = 5;
/** Rows of a block come more seldom than usual where its first half is longer than so many usual steps a row. */
const SELDOM = 2;
/**
 * Noise is no less than this share of the largest value: of a simulator's 100 m a micrometre, which its integration and the
 * arithmetic here hardly reach, and no interval is then empty. Our own choice.
 */
const LEAST_SHARE = 1e-8;
/** Motion under this share of what a line between neighbours leaves: a curve through four of them takes it off. Our own choice. */
const SMOOTH = 0.5;
/** One in so many is looked at first, and all only where those leave less than this: noise leaves as much, give or take a fifth. */
const FEW_CURVES = 4;
const FEW_SMOOTH = 0.8;
const MANY_CURVES = 64;
/** Distances looked at in one block; more would not tell the noise much better. */
const PER_BLOCK = 96;
/** Of so many samples one is looked at then. */
const PER_STRIDE = Math.ceil(SCATTER_BLOCK / PER_BLOCK);
/**
 * Standard error of one such scatter as a share of it: of a median absolute deviation of normal values, whose
 * efficiency is 37 %, over every third of the block.
 *
 * Source: P. J. Rousseeuw, C. Croux, "Alternatives to the Median Absolute Deviation", J. Am. Stat. Assoc. 88
 * (1993) 1273, section 1.
 */
export const SCATTER_ERROR = 1 / Math.sqrt(2 * 0.37 * Math.floor(SCATTER_BLOCK / PER_STRIDE));

/**
 * Picks the updates out of a column and estimates their noise.
 *
 * Noise is taken from each sample's distance to the line between its neighbours, as a median
 * absolute deviation over 256 samples (every third of them), so that it follows slow changes of the noise and is not moved
 * by jets or spikes; smooth motion that noise does not hide is taken off by a curve first. Neighbours' correlation comes from the same distance five samples apart,
 * supposing a first-order process; motion that bends over ten samples counts as correlation too,
 * which widens intervals rather than narrowing them.
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
  const near = blockNoise(tS, values, 1, stepS);
  // Of the whole column: what moves evenly for a while differs by one size there, whatever its digits.
  const leastSd = Math.max(roundingSd(values), LEAST_SHARE * largestOf(values));
  for (let b = 0; b < near.sd.length; b++) near.sd[b] = Math.max(near.sd[b]!, leastSd);
  const far = blockNoise(tS, values, FAR_LAG, stepS);
  const ratios = new Float64Array(near.sd.length);
  let known = 0;
  for (let b = 0; b < near.sd.length; b++) {
    if (near.smooth[b] === 1) continue;
    if (near.sd[b]! > 0 && far.sd[b]! > 0) ratios[known++] = (far.sd[b]! / near.sd[b]!) ** 2;
  }
  const correlation = known < 4 ? 0 : correlationFromRatio(medianInPlace(ratios, known));
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
 * Relative standard deviation of the variance of the noise, as told by so many updates: a median absolute
 * deviation over every third one's distance to its neighbours, which are then independent.
 *
 * Source: P. J. Rousseeuw, C. Croux, "Alternatives to the Median Absolute Deviation", JASA 88 (1993): its
 * efficiency in normal noise is 36.7 %, so its relative variance 1 / (2 x 0.367 n); that of a square four times that.
 */
export function noiseVarianceError(updates: number): number {
  return updates > 0 ? Math.sqrt(4 / (2 * 0.367 * (updates / PER_STRIDE))) : 0;
}

/** Stamps are written to the millisecond at best: a step this much over a bound is none. */
export const STAMP_SLACK = 1.001;

/** Median step of a column of times, s; NaN for fewer than two. */
export function medianStep(tS: Float64Array): number {
  const n = tS.length - 1;
  if (n < 1) return Number.NaN;
  const stride = Math.max(1, Math.floor(n / 200_001));
  const work = new Float64Array(Math.ceil(n / stride));
  let count = 0;
  for (let i = 0; i < n; i += stride) work[count++] = tS[i + 1]! - tS[i]!;
  return medianInPlace(work, count);
}

/** By block the noise, and 1 where the samples move smoothly, so that it was told from curves. */
type BlockNoise = Readonly<{ sd: Float64Array; smooth: Uint8Array }>;

/**
 * Noise of each block of samples, from distances to the line between neighbours `lag` apart; of nearest ones to the curve
 * through four, where that leaves far less: in noise both leave as much.
 */
function blockNoise(
  tS: Float64Array,
  values: Float64Array,
  lag: number,
  stepS: number,
): BlockNoise {
  const n = values.length;
  const blocks = Math.max(1, Math.round(n / SCATTER_BLOCK));
  const sd = new Float64Array(blocks);
  const smooth = new Uint8Array(blocks);
  const work = new Float64Array(PER_BLOCK + 1);
  const ofCurves = new Float64Array(PER_BLOCK + 1);
  for (let b = 0; b < blocks; b++) {
    const from = Math.floor((b * n) / blocks);
    const to = Math.floor(((b + 1) * n) / blocks);
    let count = 0;
    const stride = Math.max(1, Math.ceil((to - from) / PER_BLOCK));
    // Those of another source may come more seldom.
    const half = (from + to) >> 1;
    const isSeldom = tS[half]! - tS[from]! > SELDOM * stepS * (half - from);
    const longest = 6 * lag * (isSeldom ? medianStep(tS.subarray(from, to)) : stepS);
    for (let i = Math.max(from, lag); i < to && i + lag < n; i += stride) {
      const whole = tS[i + lag]! - tS[i - lag]!;
      if (!(whole <= longest)) continue;
      const weight = (tS[i]! - tS[i - lag]!) / whole;
      const between = values[i - lag]! + weight * (values[i + lag]! - values[i - lag]!);
      const gain = 1 + weight * weight + (1 - weight) * (1 - weight);
      work[count++] = Math.abs(values[i]! - between) / Math.sqrt(gain);
    }
    const middle = (sizes: Float64Array, of: number): number =>
      of < 8 ? Number.NaN : SD_PER_MAD * medianInPlace(sizes, of);
    const ofLines = middle(work, count);
    const curvesBy = (each: number): number => {
      let curves = 0;
      for (let i = Math.max(from, lag); i < to && i + lag < n; i += each) {
        const whole = tS[i + lag]! - tS[i - lag]!;
        if (whole <= longest && isEven(tS, i, whole)) ofCurves[curves++] = offCurve(values, i);
      }
      return middle(ofCurves, curves);
    };
    // A few tell as a rule that it is noise.
    const few = count > MANY_CURVES ? FEW_CURVES : 1;
    const mayBeSmooth = lag === 1 && curvesBy(few * stride) < FEW_SMOOTH * ofLines;
    const ofCurve = mayBeSmooth ? curvesBy(stride) : Number.NaN;
    const isSmooth = ofCurve < SMOOTH * ofLines;
    sd[b] = isSmooth ? ofCurve : ofLines;
    smooth[b] = isSmooth ? 1 : 0;
  }
  fillUnknown(sd);
  return { sd, smooth };
}

/** True where five samples about one are evenly apart, to a twentieth; `whole` from the one before to the one after, s. */
function isEven(tS: Float64Array, i: number, whole: number): boolean {
  const near = 0.05 * whole;
  const at = (k: number): number => tS[k] ?? Number.NaN;
  return (
    Math.abs(at(i) - at(i - 1) - whole / 2) <= near &&
    Math.abs(at(i) - at(i - 2) - whole) <= near &&
    Math.abs(at(i + 2) - at(i) - whole) <= near
  );
}

/** How far a sample is from the cubic through two neighbours on either side, as the deviation of one of five noisy ones. */
function offCurve(values: Float64Array, i: number): number {
  const off =
    values[i - 2]! - 4 * values[i - 1]! + 6 * values[i]! - 4 * values[i + 1]! + values[i + 2]!;
  return Math.abs(off) / Math.sqrt(70);
}

/** Blocks too short to tell take their neighbour's noise; 0 where nothing is known at all. */
function fillUnknown(sd: Float64Array): void {
  let known = Number.NaN;
  for (let b = 0; b < sd.length; b++) {
    if (!Number.isNaN(sd[b]!)) known = sd[b]!;
    else sd[b] = known;
  }
  known = 0;
  for (let b = sd.length - 1; b >= 0; b--) {
    if (!Number.isNaN(sd[b]!)) known = sd[b]!;
    else sd[b] = known;
  }
}

/** Linear between the middles of blocks, held outside them. */
function spreadBlocks(blocks: Float64Array, factor: number, out: Float64Array): void {
  const n = out.length;
  const width = n / blocks.length;
  for (let i = 0; i < n; i++) {
    const place = Math.min(blocks.length - 1, Math.max(0, (i + 0.5) / width - 0.5));
    const b = Math.floor(place);
    const here = blocks[b]!;
    const next = blocks[Math.min(blocks.length - 1, b + 1)]!;
    out[i] = factor * (here + (place - b) * (next - here));
  }
}

/** Inverts ratio(rho) = var(lag 5) / var(lag 1) of a first-order process by bisection. */
function correlationFromRatio(ratio: number): number {
  const at = (rho: number): number => {
    const far = rho ** FAR_LAG;
    return (1.5 - 2 * far + 0.5 * far * far) / (1.5 - 2 * rho + 0.5 * rho * rho);
  };
  let low = 0;
  let high = 0.9;
  if (!(ratio > 1)) return 0;
  if (ratio >= at(high)) return high;
  for (let step = 0; step < 50; step++) {
    const middle = (low + high) / 2;
    if (at(middle) < ratio) low = middle;
    else high = middle;
  }
  return low;
}

/** By how much neighbours' correlation raises the variance of a mean of many samples. */
export function meanVarianceFactor(correlation: number): number {
  return (1 + correlation) / (1 - correlation);
}
