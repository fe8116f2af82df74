/** Two measurements of one range against each other: bias and scatter, with correlation counted. */
import { NORMAL_95 } from '../math/statistics';

/** A value with the 95 % half-width of its random part. */
export type Estimated = Readonly<{ value: number; half: number }>;

/**
 * Differences at the instants of one source's samples: that source less the other, `rangeM`. Columns of
 * one length, session time in s, without NaN.
 */
export type Differences = Readonly<{
  tS: Float64Array;
  rangeM: Float64Array;
  differenceM: Float64Array;
}>;

export type Agreement = Readonly<{
  count: number;
  /** How many independent differences these are worth. */
  independent: number;
  biasM: Estimated;
  /** Standard deviation about the bias. */
  scatterM: Estimated;
}>;

/** Fewest differences from which a scatter is told. */
const FEWEST = 8;
const LONGEST_LAG_SHARE = 4;

/**
 * By how much the variance of a mean is raised because neighbours err alike: 1 + 2 x the sum of the
 * autocorrelations up to the first lag at which a pair of them is no longer positive.
 *
 * @param residuals evenly spaced or nearly so, mean 0
 * @returns 1 for white noise, more for noise that hangs together; never under 1
 *
 * Source: C. J. Geyer, "Practical Markov chain Monte Carlo", Statistical Science 7 (1992) 473,
 * initial positive sequence.
 */
export function correlationFactor(residuals: Float64Array): number {
  const n = residuals.length;
  const at = (lag: number): number => {
    let sum = 0;
    for (let i = lag; i < n; i++) sum += (residuals[i] ?? 0) * (residuals[i - lag] ?? 0);
    return sum / n;
  };
  const variance = at(0);
  if (!(variance > 0)) return 1;
  let sum = 0;
  for (let lag = 1; lag + 1 <= n / LONGEST_LAG_SHARE; lag += 2) {
    const pair = (at(lag) + at(lag + 1)) / variance;
    if (pair <= 0) break;
    sum += pair;
  }
  return Math.max(1, 1 + 2 * sum);
}

/**
 * Bias and scatter of differences.
 *
 * The bias is their mean; its interval counts differences that err together as fewer. The scatter is
 * the standard deviation about the bias, with the loss of one degree of freedom to it.
 *
 * @returns null for fewer than eight differences, or fewer than two independent ones
 */
export function agreementOf(differenceM: Float64Array): Agreement | null {
  const count = differenceM.length;
  if (count < FEWEST) return null;
  let mean = 0;
  for (const value of differenceM) mean += value / count;
  const residuals = differenceM.map((value) => value - mean);
  const factor = correlationFactor(residuals);
  const independent = count / factor;
  if (independent < 2) return null;
  let square = 0;
  for (const value of residuals) square += value * value;
  const scatter = Math.sqrt(square / (count - factor));
  return {
    count,
    independent,
    biasM: { value: mean, half: (NORMAL_95 * scatter) / Math.sqrt(independent) },
    scatterM: { value: scatter, half: (NORMAL_95 * scatter) / Math.sqrt(2 * independent) },
  };
}

export type RangeBand = Readonly<{ fromM: number; toM: number; agreement: Agreement }>;

/** Bands a factor of two or so apart, m. */
const CUTS_M: readonly number[] = [2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000];

/** Bias and scatter by bands of range, from the far one inwards; bands with too few are left out. */
export function agreementByRange({ rangeM, differenceM }: Differences): readonly RangeBand[] {
  const bands: RangeBand[] = [];
  for (let cut = CUTS_M.length; cut >= 0; cut--) {
    const fromM = CUTS_M[cut] ?? Number.POSITIVE_INFINITY;
    const toM = CUTS_M[cut - 1] ?? 0;
    const inside = differenceM.filter((_, i) => {
      const range = rangeM[i] ?? Number.NaN;
      return range > toM && range <= fromM;
    });
    const agreement = agreementOf(inside);
    if (agreement !== null) bands.push({ fromM, toM, agreement });
  }
  return bands;
}
