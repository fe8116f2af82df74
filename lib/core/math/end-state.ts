/** Level and rate at the end of a series that wanders, seen through noise. */

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

/** At the last value, each with its standard deviation. */
export type EndState = Readonly<{ level: number; levelSd: number; rate: number; rateSd: number }>;

/** Variance by which the rate wanders in a second, from a steady rate to one that nothing ties down. */
const WANDERS = [1e-10, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2];
/** The rate is unknown beforehand by this variance. */
const UNKNOWN = 100;
/** Two values give a rate and nothing to hold it against. */
const LEAST_COUNT = 4;

type Filtered = EndState & Readonly<{ logLikelihood: number }>;

/** A filter forwards over level, rate and slow noise; the rate wanders by white steps. */
function filtered(series: NoisySeries, from: number, wanderPerS: number): Filtered {
  const { tS, values, white, slow, slowS } = series;
  let [level, rate, slowly] = [values[from] ?? Number.NaN, 0, 0];
  let p00 = (white[from] ?? 0) + (slow[from] ?? 0);
  let [p01, p02, p11, p12, p22] = [0, 0, UNKNOWN, 0, 1];
  let logLikelihood = 0;
  for (let i = from + 1; i < values.length; i++) {
    const stepS = (tS[i] ?? 0) - (tS[i - 1] ?? 0);
    const keep = Math.exp(-stepS / slowS);
    level += stepS * rate;
    slowly *= keep;
    p00 += stepS * (2 * p01 + stepS * p11) + (wanderPerS * stepS ** 3) / 3;
    p01 += stepS * p11 + (wanderPerS * stepS * stepS) / 2;
    p02 = keep * (p02 + stepS * p12);
    p11 += wanderPerS * stepS;
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
  const [levelSd, rateSd] = [Math.sqrt(Math.max(0, p00)), Math.sqrt(Math.max(0, p11))];
  return { level, levelSd, rate, rateSd, logLikelihood };
}

type Weighted = Readonly<{ weight: number; mean: number; sd: number }>;

/** Mean and standard deviation of all together. */
function mixed(parts: readonly Weighted[]): readonly [mean: number, sd: number] {
  const total = parts.reduce((sum, { weight }) => sum + weight, 0);
  const mean = parts.reduce((sum, part) => sum + part.weight * part.mean, 0) / total;
  const square = parts.reduce(
    (sum, part) => sum + part.weight * (part.sd ** 2 + (part.mean - mean) ** 2),
    0,
  );
  return [mean, Math.sqrt(square / total)];
}

/**
 * Level and rate at the last value, of a series whose rate wanders by an unknown amount: every amount of nine, from
 * next to none to one that leaves the last values to speak, counts by how likely the values are with it.
 *
 * @param series values with their noise
 * @param from index of the first value to use
 * @returns level (the values' unit) and rate (per second), each with the standard deviation of what all amounts
 *   say together; `null` with fewer than four values
 *
 * Valid: rates under about 10 of the unit per second; a rate that leaps is taken as one that wanders much.
 * Source: an integrated random walk by the Kalman filter, A. C. Harvey, Forecasting, Structural Time Series
 * Models and the Kalman Filter (1989), section 2.3 (from memory); averaging by the likelihood: Hoeting et al.,
 * Statist. Sci. 14 (1999) 382.
 */
export function endState(series: NoisySeries, from: number): EndState | null {
  if (series.values.length - from < LEAST_COUNT) return null;
  const all = WANDERS.map((wander) => filtered(series, from, wander));
  const best = Math.max(...all.map(({ logLikelihood }) => logLikelihood));
  const weightOf = (one: Filtered): number => Math.exp(one.logLikelihood - best);
  const [level, levelSd] = mixed(
    all.map((one) => ({ weight: weightOf(one), mean: one.level, sd: one.levelSd })),
  );
  const [rate, rateSd] = mixed(
    all.map((one) => ({ weight: weightOf(one), mean: one.rate, sd: one.rateSd })),
  );
  return { level, levelSd, rate, rateSd };
}
