/** Correlation of the noise of one update with the next. */
import { cutVariance } from '../math/cut-variance';
import { medianInPlace } from '../math/statistics';
import { type BlockNoise, NOISE_CUT, SCATTER_BLOCK } from './block-noise';

/** Distance of far neighbours, in updates. */
const FAR_LAG = 5;
/** Fewer blocks than this tell no correlation. */
const FEWEST_BLOCKS = 4;
/** A column is looked at in so many parts, so that jets in a few of them move nothing, and in each at so many places. */
const PARTS = 8;
const PLACES = 2048;
const FEWEST_PLACES = 64;
/** Correlations tried: each of them as likely as another, together as likely as none. */
const MOST = 0.9;
const TRIED = 90;
/** Neighbours are no farther apart than so many usual steps an update. Our own choice. */
const LONGEST_STEPS = 6;

/**
 * Variance of the logarithm of far over near variance in white noise, for one of so many updates looked at: by the
 * fourth moments of normal values, near and far distances of all updates sharing some of them (1.9 x 2), of each third one
 * hardly (2). The cut takes a sixth of them.
 */
const OF_PLACES = 2.4;
const OF_UPDATES = 4.6;

/** Logarithm of far over near variance in a part of a column, and its own variance in white noise. */
type SeenRatio = Readonly<{ log: number; variance: number }>;

type Column = Readonly<{ tS: Float64Array; values: Float64Array }>;

/** A part of a column, how far apart far neighbours may be, s, and the least noise. */
type Part = Readonly<{ from: number; to: number; longestS: number; leastSd: number }>;

/** Columns of distances, used anew for each part. */
type Work = Readonly<{ near: Float64Array; far: Float64Array }>;

function ratioIn(
  { tS, values }: Column,
  noise: BlockNoise,
  { from, to, longestS, leastSd }: Part,
  work: Work,
): SeenRatio | null {
  const width = values.length / noise.sd.length;
  const stride = Math.max(1, Math.ceil((to - from) / PLACES));
  const last = Math.min(to, values.length - FAR_LAG);
  let [count, least] = [0, 0];
  for (let i = Math.max(from, FAR_LAG); i < last; i += stride) {
    if (!(tS[i + FAR_LAG]! - tS[i - FAR_LAG]! <= longestS)) continue;
    const block = Math.min(noise.sd.length - 1, Math.floor(i / width));
    const scale = noise.sd[block]!;
    if (noise.smooth[block] === 1 || !(scale > 0)) continue;
    const off = (lag: number): number => {
      const weight = (tS[i]! - tS[i - lag]!) / (tS[i + lag]! - tS[i - lag]!);
      const between = values[i - lag]! + weight * (values[i + lag]! - values[i - lag]!);
      const gain = 1 + weight * weight + (1 - weight) * (1 - weight);
      return Math.abs(values[i]! - between) / (scale * Math.sqrt(gain));
    };
    least += (leastSd / scale) ** 2;
    work.near[count] = off(1);
    work.far[count++] = off(FAR_LAG);
  }
  if (count < FEWEST_PLACES) return null;
  // Digits that hardly change are noise as well.
  const near = Math.max(least / count, cutVariance(work.near, count, NOISE_CUT));
  const far = cutVariance(work.far, count, NOISE_CUT);
  if (!(near > 0 && far > 0)) return null;
  const variance = Math.max(OF_PLACES / count, OF_UPDATES / (stride * count));
  return { log: Math.log(far / near), variance };
}

/** Far over near variance of a first-order process. */
function ratioOf(rho: number): number {
  const far = rho ** FAR_LAG;
  return (1.5 - 2 * far + 0.5 * far * far) / (1.5 - 2 * rho + 0.5 * rho * rho);
}

/** Mean of all correlations, each by how likely it makes what is seen. */
function likelyCorrelation({ log, variance }: SeenRatio): number {
  const likelihood = (rho: number): number =>
    Math.exp(-((log - Math.log(ratioOf(rho))) ** 2) / (2 * variance));
  // Beyond all that are tried, where their likelihoods may all be nothing.
  if (log >= Math.log(ratioOf(MOST))) return MOST;
  let [sum, weight] = [0, likelihood(0)];
  for (let k = 0; k < TRIED; k++) {
    const rho = ((k + 0.5) / TRIED) * MOST;
    const each = likelihood(rho) / TRIED;
    weight += each;
    sum += each * rho;
  }
  return weight > 0 ? sum / weight : 0;
}

/**
 * Correlation of the noise of one update with the next, from how much farther samples stand off the line between
 * neighbours five updates apart than off that between nearest ones, supposing a first-order process.
 *
 * Chance makes that more in half of all columns whose noise does not hang together; so none is as likely as some before
 * looking, and the mean of all, weighed by how likely each makes what is seen, is what is told. Motion that bends over ten
 * samples counts as correlation too, which widens intervals rather than narrowing them.
 *
 * @param noise noise of the column's blocks, and which of them move too smoothly to tell it
 * @param stepS median step, s; `leastSd` the least noise that the column's digits let it have
 * @returns 0 to 0.9; 0 for fewer than four blocks
 *
 * Source: the variance of a ratio by the fourth moments of normal values, and the posterior mean: elementary.
 */
export function neighbourCorrelation(
  column: Column,
  noise: BlockNoise,
  { stepS, leastSd }: Readonly<{ stepS: number; leastSd: number }>,
): number {
  const n = column.values.length;
  if (noise.sd.length < FEWEST_BLOCKS) return 0;
  const parts = Math.min(PARTS, Math.floor(n / SCATTER_BLOCK));
  const longestS = LONGEST_STEPS * FAR_LAG * stepS;
  const room = () => new Float64Array(PLACES + 1);
  const work: Work = { near: room(), far: room() };
  const ratios: SeenRatio[] = [];
  for (let part = 0; part < parts; part++) {
    const [from, to] = [Math.floor((part * n) / parts), Math.floor(((part + 1) * n) / parts)];
    const ratio = ratioIn(column, noise, { from, to, longestS, leastSd }, work);
    if (ratio !== null) ratios.push(ratio);
  }
  if (ratios.length === 0) return 0;
  const logs = Float64Array.from(ratios, ({ log }) => log);
  const mean = ratios.reduce((sum, { variance }) => sum + variance, 0) / ratios.length;
  // The median of many normal values has pi / 2 of the variance of their mean.
  const variance = (mean / ratios.length) * (ratios.length > 2 ? Math.PI / 2 : 1);
  return likelyCorrelation({ log: medianInPlace(logs, logs.length), variance });
}
