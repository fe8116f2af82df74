/** Variance of noise with some other values among it. */
import { normalTail } from './normal-mixture';
import { medianInPlace, SD_PER_MAD } from './statistics';

/** Of few values the cut takes more: this over their number. By the same 20,000 samples, and of 20 and 43. */
const OF_FEW = 1.3;

/** Share of its variance that a normal variable keeps where it is cut at so many deviations. Source: elementary, by parts. */
function keptShare(cut: number): number {
  const density = Math.exp((-cut * cut) / 2) / Math.sqrt(2 * Math.PI);
  return 1 - (2 * cut * density) / (1 - 2 * normalTail(cut));
}

/**
 * Mean square of what lies within some robust deviations, with what a normal variable loses so. A spike counts for nothing;
 * of normal values it tells as much as the mean square of 83 % of them would, cut at 3, of 65 % cut at 2.5 (a median alone 37 %).
 *
 * @param sizes distances from the middle, 0 or more; reordered
 * @param count how many of them count
 * @param cut in deviations by the median of the sizes
 * @returns in their unit squared; NaN for none
 *
 * Valid: fewer than half are other than noise. The efficiencies are those of 20,000 simulated samples of 85.
 * Source: one step from the median absolute deviation to a trimmed one: P. J. Huber, Robust Statistics (1981), section 5.1,
 * from memory.
 */
export function cutVariance(sizes: Float64Array, count: number, cut: number): number {
  const most = cut * SD_PER_MAD * medianInPlace(sizes, count);
  let [sum, kept] = [0, 0];
  for (let i = 0; i < count; i++) {
    if (sizes[i]! > most) continue;
    sum += sizes[i]! * sizes[i]!;
    kept++;
  }
  return sum / (kept * keptShare(cut) * (1 - OF_FEW / count));
}
