/** Level and rate at the end of a series that wanders, seen through noise. */
import { mixtureHalfWidth } from './normal-mixture';

/**
 * Values over time with the variances of their noise: white, and slow (a first-order process that decays
 * over `slowS`). Columns of one length, times strictly ascending.
 */
export type NoisySeries = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  white: Float64Array;
  slow: Float64Array;
  slowS: number;
}>;

/** At the last value or some time after it, each with the half-width of its 95 % interval. */
export type EndState = Readonly<{
  level: number;
  levelHalf: number;
  rate: number;
  rateHalf: number;
}>;

/** Variance by which the rate wanders in a second, from a steady rate to one that the values hardly tie down. */
const WANDERS = [1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3];
/** A manoeuvre may have ended so long before the last value, s, and its rate wandered by so much. */
const ENDED_S = [40, 28, 20, 13, 9, 6, 4];
const MANOEUVRES = [1e-4, 1e-2];
/** Before looking, one has ended in the stretch as likely as not. */
const SHARE_WITHOUT = 0.5;
/** The rate is unknown beforehand by this variance. */
const UNKNOWN = 100;
/** Two values give a rate and nothing to hold it against. */
const LEAST_COUNT = 4;
/** More rows than this go in as means of neighbours. */
const MOST_ROWS = 240;

/** How the rate wanders: by `before` until an instant, by `after` from there on. */
type Wander = Readonly<{ before: number; after: number; changeS: number }>;

type Filtered = Readonly<{
  level: number;
  levelSd: number;
  rate: number;
  rateSd: number;
  logLikelihood: number;
}>;

/** Means of neighbours, where there are more rows than the filters need. */
function averaged(series: NoisySeries, from: number): NoisySeries {
  const count = series.values.length - from;
  const size = Math.ceil(count / MOST_ROWS);
  const n = Math.floor(count / size);
  // The first rows are the ones left over: the last one has to be in.
  const first = series.values.length - n * size;
  const means = (column: Float64Array): Float64Array =>
    Float64Array.from({ length: n }, (_, k) => {
      let sum = 0;
      for (let i = first + k * size; i < first + (k + 1) * size; i++) sum += column[i] ?? 0;
      return sum / size;
    });
  const white = means(series.white).map((each) => each / size);
  return {
    tS: means(series.tS),
    values: means(series.values),
    white,
    slow: means(series.slow),
    slowS: series.slowS,
  };
}

/** A filter forwards over level, rate and slow noise; the rate wanders by white steps. */
function filtered(series: NoisySeries, wander: Wander, aheadS: number): Filtered {
  const { tS, values, white, slow, slowS } = series;
  let [level, rate, slowly] = [values[0] ?? Number.NaN, 0, 0];
  let p00 = (white[0] ?? 0) + (slow[0] ?? 0);
  let [p01, p02, p11, p12, p22] = [0, 0, UNKNOWN, 0, 1];
  let logLikelihood = 0;
  for (let i = 1; i < values.length; i++) {
    const stepS = (tS[i] ?? 0) - (tS[i - 1] ?? 0);
    const perS = (tS[i] ?? 0) > wander.changeS ? wander.after : wander.before;
    const keep = Math.exp(-stepS / slowS);
    level += stepS * rate;
    slowly *= keep;
    p00 += stepS * (2 * p01 + stepS * p11) + (perS * stepS ** 3) / 3;
    p01 += stepS * p11 + (perS * stepS * stepS) / 2;
    p02 = keep * (p02 + stepS * p12);
    p11 += perS * stepS;
    p12 *= keep;
    p22 = keep * keep * p22 + (1 - keep * keep);
    const c = Math.sqrt(slow[i] ?? 0);
    const [h0, h1, h2] = [p00 + c * p02, p01 + c * p12, p02 + c * p22];
    const total = h0 + c * h2 + (white[i] ?? 0);
    const off = (values[i] ?? Number.NaN) - level - c * slowly;
    logLikelihood -= 0.5 * (Math.log(total) + (off * off) / total);
    level += (h0 * off) / total;
    rate += (h1 * off) / total;
    slowly += (h2 * off) / total;
    p00 -= (h0 * h0) / total;
    p01 -= (h0 * h1) / total;
    p02 -= (h0 * h2) / total;
    p11 -= (h1 * h1) / total;
    p12 -= (h1 * h2) / total;
    p22 -= (h2 * h2) / total;
  }
  level += aheadS * rate;
  p00 += aheadS * (2 * p01 + aheadS * p11) + (wander.after * aheadS ** 3) / 3;
  p11 += wander.after * aheadS;
  const [levelSd, rateSd] = [Math.sqrt(Math.max(0, p00)), Math.sqrt(Math.max(0, p11))];
  return { level, levelSd, rate, rateSd, logLikelihood };
}

type Weighted = Readonly<{ weight: number; mean: number; sd: number }>;

/** Mean of all together, and the half-width about it that holds 95 %; weights add to 1. */
function mixed(parts: readonly Weighted[]): readonly [mean: number, half: number] {
  const mean = parts.reduce((sum, part) => sum + part.weight * part.mean, 0);
  const half = mixtureHalfWidth(
    parts.map((part) => ({ weight: part.weight, apart: part.mean - mean, sd: part.sd })),
  );
  return [mean, half];
}

/** All ways in which the rate may wander, each with how likely it is before looking. */
function wandersOf(
  fromS: number,
  toS: number,
): readonly Readonly<{ wander: Wander; prior: number }>[] {
  const ended = ENDED_S.map((beforeS) => toS - beforeS).filter((changeS) => changeS > fromS);
  const without = ended.length === 0 ? 1 : SHARE_WITHOUT;
  const each = ended.length * MANOEUVRES.length;
  return WANDERS.flatMap((after) => [
    { wander: { before: after, after, changeS: fromS }, prior: without / WANDERS.length },
    ...ended.flatMap((changeS) =>
      MANOEUVRES.map((before) => ({
        wander: { before, after, changeS },
        prior: (1 - without) / (each * WANDERS.length),
      })),
    ),
  ]);
}

/**
 * Level and rate at the last value, of a series whose rate wanders by an unknown amount, after a manoeuvre that ended
 * some seconds before or none: each such course counts by how likely the values are with it.
 *
 * @param series values with their noise
 * @param from index of the first value to use
 * @param atS an instant after the last value, to which level and rate are carried on and wander on; else the last
 * @returns level (the values' unit) and rate (per second), each with the half-width that holds 95 % of what all
 *   courses say together; `null` with fewer than four values. With more than 240 values the last is the mean of a few
 *
 * Valid: rates under about 10 of the unit per second; a rate that leaps is taken as one that wanders much.
 * Source: an integrated random walk by the Kalman filter, A. C. Harvey, Forecasting, Structural Time Series
 * Models and the Kalman Filter (1989), section 2.3 (from memory); averaging by the likelihood: Hoeting et al.,
 * Statist. Sci. 14 (1999) 382.
 */
export function endState(
  series: NoisySeries,
  from: number,
  atS = Number.NEGATIVE_INFINITY,
): EndState | null {
  if (series.values.length - from < LEAST_COUNT) return null;
  const rows = averaged(series, from);
  const toS = rows.tS[rows.tS.length - 1] ?? Number.NaN;
  const courses = wandersOf(rows.tS[0] ?? Number.NaN, toS).map(({ wander, prior }) => {
    const found = filtered(rows, wander, Math.max(0, atS - toS));
    return { found, logWeight: Math.log(prior) + found.logLikelihood };
  });
  const best = Math.max(...courses.map(({ logWeight }) => logWeight));
  const weights = courses.map(({ logWeight }) => Math.exp(logWeight - best));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const parts = (take: (found: Filtered) => readonly [mean: number, sd: number]): Weighted[] =>
    courses.map(({ found }, index) => {
      const [mean, sd] = take(found);
      return { weight: (weights[index] ?? 0) / total, mean, sd };
    });
  const [level, levelHalf] = mixed(parts((found) => [found.level, found.levelSd]));
  const [rate, rateHalf] = mixed(parts((found) => [found.rate, found.rateSd]));
  return { level, levelHalf, rate, rateHalf };
}
