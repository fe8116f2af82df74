/** Noise of samples, block by block. */
import { cutVariance } from '../math/cut-variance';
import { medianStep } from './row-steps';

/** Distances beyond so many robust deviations are spikes, or motion, and no noise. */
export const NOISE_CUT = 3;
/** Samples over which one scatter is told. */
export const SCATTER_BLOCK = 256;
/** Rows of a block come more seldom than usual where its first half is longer than so many usual steps a row. */
const SELDOM = 2;
/** Motion under this share of what a line between neighbours leaves: a curve through four of them takes it off. Our own choice. */
const SMOOTH = 0.5;
/** One in so many is looked at first, and all only where those leave less than this: noise leaves as much, give or take a fifth. */
const FEW_CURVES = 4;
const FEW_SMOOTH = 0.8;
const MANY_CURVES = 64;
/** Distances looked at in one block; more would not tell the noise much better. */
const PER_BLOCK = 96;
/** Of so many samples one is looked at then. */
export const PER_STRIDE = Math.ceil(SCATTER_BLOCK / PER_BLOCK);

/** By block the noise, and 1 where the samples move smoothly, so that it was told from curves. */
export type BlockNoise = Readonly<{ sd: Float64Array; smooth: Uint8Array }>;

/**
 * Noise of each block of samples, from distances to the line between neighbours; or to the curve through four, where that
 * leaves far less: in noise both leave as much.
 */
export function blockNoise(tS: Float64Array, values: Float64Array, stepS: number): BlockNoise {
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
    const longest = 6 * (isSeldom ? medianStep(tS.subarray(from, to)) : stepS);
    for (let i = Math.max(from, 1); i < to && i + 1 < n; i += stride) {
      const whole = tS[i + 1]! - tS[i - 1]!;
      if (!(whole <= longest)) continue;
      const weight = (tS[i]! - tS[i - 1]!) / whole;
      const between = values[i - 1]! + weight * (values[i + 1]! - values[i - 1]!);
      const gain = 1 + weight * weight + (1 - weight) * (1 - weight);
      work[count++] = Math.abs(values[i]! - between) / Math.sqrt(gain);
    }
    const middle = (sizes: Float64Array, of: number): number =>
      of < 8 ? Number.NaN : Math.sqrt(cutVariance(sizes, of, NOISE_CUT));
    const ofLines = middle(work, count);
    const curvesBy = (each: number): number => {
      let curves = 0;
      for (let i = Math.max(from, 1); i < to && i + 1 < n; i += each) {
        const whole = tS[i + 1]! - tS[i - 1]!;
        if (whole <= longest && isEven(tS, i, whole)) ofCurves[curves++] = offCurve(values, i);
      }
      return middle(ofCurves, curves);
    };
    // A few tell as a rule that it is noise.
    const few = count > MANY_CURVES ? FEW_CURVES : 1;
    const mayBeSmooth = curvesBy(few * stride) < FEW_SMOOTH * ofLines;
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
