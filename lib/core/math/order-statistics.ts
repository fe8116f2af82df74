/** What a number of runs can say: ranks, intervals of quantiles, and how many runs a claim needs. */
import { quantileSorted } from './quantiles';

/** Runs strictly below and strictly above a value, among `runs`. */
export type RankAmong = Readonly<{ below: number; above: number; runs: number }>;

/**
 * @param value NaN ranks nowhere: 0 below, 0 above
 * @param among values of the runs; NaN = the run has none, and does not count
 */
export function rankAmong(value: number, among: ArrayLike<number>): RankAmong {
  let below = 0;
  let above = 0;
  let runs = 0;
  for (let i = 0; i < among.length; i++) {
    const other = among[i]!;
    if (Number.isNaN(other)) continue;
    runs++;
    if (other < value) below++;
    if (other > value) above++;
  }
  return { below, above, runs };
}

/**
 * The largest chance that a draw from the runs' own population lies so far out on one side: the
 * place of the flight among N + 1 equal draws. Beyond all N runs this is 1 / (N + 1), and no number of
 * standard deviations makes it smaller.
 *
 * Source: exchangeability; see A. C. Davison, D. V. Hinkley, "Bootstrap Methods and their Application"
 * (1997), section 4.2 (Monte Carlo tests), from memory.
 */
export function oneSidedChance({ below, above, runs }: RankAmong): number {
  const notBeyond = runs - Math.max(below, above);
  return (notBeyond + 1) / (runs + 1);
}

/**
 * How far a value lies beyond all runs, as a share of the way from their median to the farthest of them
 * on that side; 0 or less where it lies among them. No shape is assumed, and no standard deviation.
 *
 * @param sorted ascending, without NaN
 * @returns 0.5 = half as far again as the farthest run; Infinity beyond runs that do not differ; NaN for
 *   no runs
 */
export function beyondFarthest(value: number, sorted: ArrayLike<number>): number {
  const middle = quantileSorted(sorted, 0.5, 7);
  const farthest = (value < middle ? sorted[0] : sorted[sorted.length - 1]) ?? Number.NaN;
  const way = Math.abs(farthest - middle);
  const beyond = Math.abs(value - middle) - way;
  return way === 0 && beyond > 0 ? Number.POSITIVE_INFINITY : way === 0 ? 0 : beyond / way;
}

/**
 * Chance of one of a usual flight to stand out on one side, about, and how far again at least, however many
 * the runs are. An axis is one of six, a number one of some thirty. Our own choice.
 */
const STANDING_OUT = {
  number: { chance: 1e-3, least: 0.5 },
  axis: { chance: 3e-3, least: 0.2 },
} as const;

/**
 * How far again beyond the farthest of N runs a value must lie, as a share of the way from their median
 * to the farthest, so that with some thirty numbers a usual flight seldom has one that stands out.
 *
 * Where the tail of the population is exponential, the farthest of N lies about ln N scale lengths out,
 * and one draw passes (1 + k) ln N with the chance N^-(1 + k): k = ln(1 / chance) / ln N - 1. The farthest
 * run's own spread makes some 6 in 1,000 of it for 20 runs and 3 for 60; a lighter tail gives fewer. A
 * test counts draws of both.
 *
 * @returns of a number 1.31 for 20 runs, 0.69 for 60, 0.5 from 100 on; of an axis 0.94, 0.42, 0.2 from 127 on
 */
export function farAgain(runs: number, of: keyof typeof STANDING_OUT = 'number'): number {
  const { chance, least } = STANDING_OUT[of];
  return Math.max(least, Math.log(1 / chance) / Math.log(runs) - 1);
}

/** P(count <= k) of a binomial count of n with chance p, for k = 0, 1, ... in turn. */
function* binomialSums(n: number, p: number): Generator<number> {
  let logTerm = n * Math.log1p(-p);
  let sum = Math.exp(logTerm);
  yield Math.min(1, sum);
  for (let k = 1; k < n; k++) {
    logTerm += Math.log((n - k + 1) / k) + Math.log(p) - Math.log1p(-p);
    sum += Math.exp(logTerm);
    yield Math.min(1, sum);
  }
}

/** `low` or `high` is `null` where the number of runs supports no bound on that side. */
export type QuantileInterval = Readonly<{
  value: number;
  low: number | null;
  high: number | null;
}>;

/**
 * A quantile of the population behind the runs with bounds that hold with 97.5 % each, from order
 * statistics alone: no shape is assumed. Too few runs have no bound: 60 runs say nothing about how high
 * the 95th percentile can lie (72 are needed).
 *
 * @param sorted ascending, without NaN
 * @param p 0 < p < 1
 * @returns the linear (type 7) quantile and its bounds; NaN and none for no runs
 *
 * Source: H. A. David, H. N. Nagaraja, "Order Statistics", 3rd ed. (2003), section 7.1 (from memory);
 * W. J. Conover, "Practical Nonparametric Statistics" (1999), section 3.2 (from memory).
 */
export function quantileInterval(sorted: ArrayLike<number>, p: number): QuantileInterval {
  const n = sorted.length;
  const value = quantileSorted(sorted, p, 7);
  let low: number | null = null;
  let high: number | null = null;
  if (n === 0) return { value, low, high };
  // The r-th smallest lies below the quantile unless fewer than r runs do: P(count <= r - 1).
  let rank = 1;
  for (const sum of binomialSums(n, p)) {
    if (sum <= 0.025) low = sorted[rank - 1]!;
    if (1 - sum <= 0.025) {
      high = sorted[rank - 1]!;
      break;
    }
    rank++;
  }
  return { value, low, high };
}

/** `one`: the largest run bounds the content from above; `two`: smallest and largest enclose it. */
export type ClaimSides = 'one' | 'two';

/**
 * The smallest number of runs whose extremes enclose a share of the population with a confidence.
 *
 * @param content share of the population, 0 < content < 1
 * @param confidence 0 < confidence < 1
 *
 * Source: S. S. Wilks, "Determination of sample sizes for setting tolerance limits", Annals of
 * Mathematical Statistics 12 (1941) 91. One side: 1 - content^n; two: 1 - content^n - n (1 - content)
 * content^(n - 1).
 */
export function runsNeeded(content: number, confidence: number, sides: ClaimSides): number {
  for (let n = 1; ; n++) {
    const all = content ** n;
    const missed = sides === 'one' ? all : all + n * (1 - content) * content ** (n - 1);
    if (1 - missed >= confidence) return n;
  }
}
