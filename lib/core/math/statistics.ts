/** Robust and ordinary statistics over stretches of typed arrays. */

/** Two-sided 95 % point of the standard normal distribution. */
export const NORMAL_95 = 1.959963984540054;

/** Standard deviation of a normal distribution over its median absolute deviation. */
export const SD_PER_MAD = 1.482602218505602;

/**
 * The k-th smallest of the first `count` values, by Hoare's selection; reorders `work` in place.
 *
 * @param work values without NaN; reordered
 * @param count how many of them count, at least 1
 * @param k 0-based rank, `from` <= k < count
 * @param from rank under which all values are known to be the smaller ones, 0 for none
 * @returns the value of that rank
 *
 * Source: C. A. R. Hoare, "Algorithm 65: Find", Comm. ACM 4 (1961) 321.
 */
export function selectInPlace(work: Float64Array, count: number, k: number, from = 0): number {
  let low = from;
  let high = count - 1;
  while (low < high) {
    const pivot = work[k]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (work[i]! < pivot) i++;
      while (pivot < work[j]!) j--;
      if (i <= j) {
        const swap = work[i]!;
        work[i] = work[j]!;
        work[j] = swap;
        i++;
        j--;
      }
    }
    if (j < k) low = i;
    if (k < i) high = j;
  }
  return work[k]!;
}

/**
 * Median of the first `count` values; reorders `work`.
 *
 * @returns the middle value, the mean of the two middle ones for an even count; NaN for none
 */
export function medianInPlace(work: Float64Array, count: number): number {
  if (count === 0) return Number.NaN;
  const half = count >> 1;
  const upper = selectInPlace(work, count, half);
  if (count % 2 === 1) return upper;
  let lower = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < half; i++) if (work[i]! > lower) lower = work[i]!;
  return (lower + upper) / 2;
}

/** Median of the values that are not NaN; NaN where there are none. Does not reorder its argument. */
export function median(values: ArrayLike<number>): number {
  const work = new Float64Array(values.length);
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!Number.isNaN(value)) work[count++] = value;
  }
  return medianInPlace(work, count);
}

/**
 * Quantile of the standard normal distribution.
 *
 * @param p probability, 0 < p < 1
 * @returns z with P(Z <= z) = p; -Infinity and Infinity at 0 and 1
 *
 * Valid: relative error below 1.2e-9 over 1e-300 < p < 1 - 1e-16; not checked outside.
 * Source: P. J. Acklam, rational approximation of the inverse normal distribution (2003).
 */
export function normalQuantile(p: number): number {
  if (p <= 0) return Number.NEGATIVE_INFINITY;
  if (p >= 1) return Number.POSITIVE_INFINITY;
  if (p < 0.02425) {
    const q = Math.sqrt(-2 * Math.log(p));
    return tailQuantile(q);
  }
  if (p > 0.97575) return -tailQuantile(Math.sqrt(-2 * Math.log(1 - p)));
  const q = p - 0.5;
  const r = q * q;
  const above =
    ((((-39.69683028665376 * r + 220.9460984245205) * r - 275.9285104469687) * r +
      138.357751867269) *
      r -
      30.66479806614716) *
      r +
    2.506628277459239;
  const below =
    ((((-54.47609879822406 * r + 161.5858368580409) * r - 155.6989798598866) * r +
      66.80131188771972) *
      r -
      13.28068155288572) *
      r +
    1;
  return (above * q) / below;
}

function tailQuantile(q: number): number {
  const above =
    ((((-0.007784894002430293 * q - 0.3223964580411365) * q - 2.400758277161838) * q -
      2.549732539343734) *
      q +
      4.374664141464968) *
      q +
    2.938163982698783;
  const below =
    (((0.007784695709041462 * q + 0.3224671290700398) * q + 2.445134137142996) * q +
      3.754408661907416) *
      q +
    1;
  return above / below;
}
