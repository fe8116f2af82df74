/** Offset, drift and range bias of a clock by weighted least squares. */
import { fitColumns, type LinearFit } from '../math/least-squares';
import type { ClockTerms } from './clock-terms';

/** A moment on both clocks: `sessionS` is where the evidence puts `sourceS`. */
export type Observation = Readonly<{
  sourceS: number;
  sessionS: number;
  /** Seconds by which a metre more said than measured delays it: 1 / closing rate; 0 for events. */
  biasSPerM: number;
  /** Standard deviation, s. */
  sdS: number;
}>;

/** What is fitted besides the offset. */
export type ClockTermsFitted = 'drift' | 'offset-only';

/** What is supposed of the range bias, m: the mean and the standard deviation. */
export type BiasPrior = Readonly<{ meanM: number; sdM: number }>;

/**
 * Estimates with their covariance: `covariance` is row-major over offset (s), drift (1) and bias
 * (m), in that order; the rows of a drift that was not fitted are 0.
 */
export type ClockEstimate = Readonly<{
  offsetS: number;
  drift: number;
  biasM: number;
  covariance: readonly (readonly number[])[];
  /** Sum of squared residuals over variance. */
  misfit: number;
  /** -2 log of the restricted likelihood, to compare standard deviations by. */
  deviance: number;
  /** Leverage of each observation: the share of its own value in what the fit puts there. */
  leverages: readonly number[];
  residualsS: readonly number[];
}>;

/** Columns are scaled to the order of 1: the time is centred and taken in units of its spread. */
type Scale = Readonly<{ meanS: number; spreadS: number }>;

function scaleOf(observations: readonly Observation[]): Scale {
  let weights = 0;
  let sumS = 0;
  for (const { sourceS, sdS } of observations) {
    weights += sdS ** -2;
    sumS += sourceS * sdS ** -2;
  }
  const meanS = sumS / weights;
  const spread = observations.reduce((sum, { sourceS, sdS }) => {
    return sum + ((sourceS - meanS) / sdS) ** 2;
  }, 0);
  return { meanS, spreadS: Math.sqrt(spread / weights) };
}

type Design = Readonly<{ fit: LinearFit; columns: readonly Float64Array[] }>;

function solveDesign(
  observations: readonly Observation[],
  prior: BiasPrior,
  { meanS, spreadS }: Scale,
): Design | null {
  // One row an observation, one more for what is supposed of the bias.
  const rows = observations.length + 1;
  const ones = new Float64Array(rows);
  const times = new Float64Array(rows);
  const biases = new Float64Array(rows);
  const data = new Float64Array(rows);
  observations.forEach(({ sourceS, sessionS, biasSPerM, sdS }, row) => {
    ones[row] = 1 / sdS;
    times[row] = spreadS > 0 ? (sourceS - meanS) / spreadS / sdS : 0;
    biases[row] = -biasSPerM / sdS;
    data[row] = (sessionS - sourceS) / sdS;
  });
  biases[rows - 1] = 1 / prior.sdM;
  data[rows - 1] = prior.meanM / prior.sdM;
  const columns = spreadS > 0 ? [ones, times, biases] : [ones, biases];
  const fit = fitColumns(columns, data);
  return fit === null ? null : { fit, columns };
}

/** Covariance of offset, drift and bias from the one of the scaled columns. */
function unscale(fit: LinearFit, { meanS, spreadS }: Scale): number[][] {
  const n = fit.coefficients.length;
  // Offset, drift and bias as sums of the scaled coefficients.
  const parts =
    n === 3
      ? [
          [1, -meanS / spreadS, 0],
          [0, 1 / spreadS, 0],
          [0, 0, 1],
        ]
      : [
          [1, 0],
          [0, 0],
          [0, 1],
        ];
  return parts.map((left) =>
    parts.map((right) => {
      let sum = 0;
      left.forEach((a, i) => {
        right.forEach((b, j) => {
          sum += a * b * (fit.covariance[i * n + j] ?? 0);
        });
      });
      return sum;
    }),
  );
}

/** Logarithm of the determinant of a covariance of two or three unknowns. */
function logDeterminant(covariance: Float64Array, n: number): number {
  const at = (i: number, j: number) => covariance[i * n + j] ?? 0;
  const minor = (i: number, j: number, k: number, l: number) =>
    at(i, k) * at(j, l) - at(i, l) * at(j, k);
  if (n === 2) return Math.log(minor(0, 1, 0, 1));
  return Math.log(
    at(0, 0) * minor(1, 2, 1, 2) - at(0, 1) * minor(1, 2, 0, 2) + at(0, 2) * minor(1, 2, 0, 1),
  );
}

/**
 * Offset, drift and range bias together, by weighted least squares.
 *
 * session = offset + source x (1 + drift); a range said too large by the bias is crossed later by
 * bias x `biasSPerM`. What is supposed of the bias enters as one more observation, so that data
 * that cannot tell it leave it where it was and widen the offset instead.
 *
 * @param observations at least one, `sdS` above 0
 * @param prior mean and standard deviation of the bias, m; `sdM` above 0
 * @param terms `drift` needs two distinct times; without them no drift is fitted
 * @returns the estimate; null where the equations cannot be solved
 *
 * Source: elementary; weighted least squares. The restricted likelihood is that of Patterson and
 * Thompson, Biometrika 58 (1971) 545.
 */
export function fitWeightedClock(
  observations: readonly Observation[],
  prior: BiasPrior,
  terms: ClockTermsFitted,
): ClockEstimate | null {
  const spread = scaleOf(observations);
  const scale = terms === 'drift' ? spread : { ...spread, spreadS: 0 };
  const design = solveDesign(observations, prior, scale);
  if (design === null) return null;
  const { fit, columns } = design;
  const n = fit.coefficients.length;
  const [level = 0, second = 0, third = 0] = fit.coefficients;
  const drift = n === 3 ? second / scale.spreadS : 0;
  const offsetS = level - drift * scale.meanS;
  const biasM = n === 3 ? third : second;
  const leverages = observations.map((_, row) => {
    let sum = 0;
    for (let i = 0; i < n; i += 1) {
      for (let j = 0; j < n; j += 1) {
        sum +=
          (columns[i]?.[row] ?? 0) * (columns[j]?.[row] ?? 0) * (fit.covariance[i * n + j] ?? 0);
      }
    }
    return sum;
  });
  const residualsS = observations.map(
    ({ sourceS, sessionS, biasSPerM }) =>
      sessionS - sourceS - offsetS - drift * sourceS + biasM * biasSPerM,
  );
  // The determinant of the unscaled unknowns: the scale itself depends on the weights.
  const logScale = n === 3 ? 2 * Math.log(scale.spreadS) : 0;
  const logSd = observations.reduce((sum, { sdS }) => sum + Math.log(sdS), 0);
  return {
    offsetS,
    drift,
    biasM,
    covariance: unscale(fit, scale),
    misfit: fit.residual,
    deviance: 2 * logSd + fit.residual - logDeterminant(fit.covariance, n) + logScale,
    leverages,
    residualsS,
  };
}

/**
 * The clock without one of its observations, from the fit with it.
 *
 * @param index place of the observation
 * @returns offset and drift; null where nothing but that observation tells them
 *
 * Source: elementary; the update of least squares when a row is taken away (Sherman and Morrison).
 */
export function clockWithout(
  estimate: ClockEstimate,
  observations: readonly Observation[],
  index: number,
): ClockTerms | null {
  const observation = observations[index];
  const leverage = estimate.leverages[index];
  const residualS = estimate.residualsS[index];
  if (observation === undefined || leverage === undefined || residualS === undefined) return null;
  if (leverage > 1 - 1e-6) return null;
  const row = [1, observation.sourceS, -observation.biasSPerM];
  const gain = residualS / (observation.sdS ** 2 * (1 - leverage));
  const change = (term: number): number =>
    gain * row.reduce((sum, part, i) => sum + part * (estimate.covariance[term]?.[i] ?? 0), 0);
  return {
    offsetS: estimate.offsetS - change(0),
    driftPpm: (estimate.drift - change(1)) * 1e6,
  };
}
