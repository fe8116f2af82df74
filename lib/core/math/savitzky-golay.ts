/** Savitzky-Golay smoothing and differentiation of evenly spaced samples. */
import { invariant } from '../result';

/** Solves a small symmetric positive definite system in place by Cholesky's method. */
function solveSymmetric(matrix: Float64Array, size: number, right: Float64Array): Float64Array {
  const lower = matrix.slice();
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = lower[i * size + j]!;
      for (let k = 0; k < j; k++) sum -= lower[i * size + k]! * lower[j * size + k]!;
      lower[i * size + j] = i === j ? Math.sqrt(sum) : sum / lower[j * size + j]!;
    }
  }
  const out = right.slice();
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < i; k++) out[i] = out[i]! - lower[i * size + k]! * out[k]!;
    out[i] = out[i]! / lower[i * size + i]!;
  }
  for (let i = size - 1; i >= 0; i--) {
    for (let k = i + 1; k < size; k++) out[i] = out[i]! - lower[k * size + i]! * out[k]!;
    out[i] = out[i]! / lower[i * size + i]!;
  }
  return out;
}

/**
 * Weights that give a derivative of the fitted polynomial at one place of the window.
 *
 * @param window odd number of samples
 * @param degree degree of the polynomial, below `window`
 * @param derivative 0 for the value, 1 for the slope, and so on, per sample step
 * @param place position in the window at which to evaluate, 0 to window - 1 (the middle smooths
 *   without shift)
 * @returns weights, one a sample; the sum of weight x sample is the derivative
 *
 * Valid: window and degree checked; well conditioned up to degree 6 and windows of some hundred.
 * Source: A. Savitzky, M. J. E. Golay, Analytical Chemistry 36 (1964) 1627, with the corrections of
 * J. Steinier et al., Analytical Chemistry 44 (1972) 1906 (the latter from memory).
 */
export function savitzkyGolayWeights(
  window: number,
  degree: number,
  derivative: number,
  place: number,
): Float64Array {
  invariant(window % 2 === 1 && window > degree, 'window must be odd and above the degree');
  const size = degree + 1;
  const half = (window - 1) / 2;
  // Positions scaled to [-1, 1] keep the normal equations well conditioned.
  const scale = Math.max(1, half);
  const powers = (u: number): Float64Array => {
    const row = new Float64Array(size);
    row[0] = 1;
    for (let k = 1; k < size; k++) row[k] = row[k - 1]! * u;
    return row;
  };
  const normal = new Float64Array(size * size);
  for (let i = 0; i < window; i++) {
    const row = powers((i - half) / scale);
    for (let a = 0; a < size; a++) {
      for (let b = 0; b < size; b++) {
        normal[a * size + b] = normal[a * size + b]! + row[a]! * row[b]!;
      }
    }
  }
  const at = (place - half) / scale;
  const asked = new Float64Array(size);
  for (let k = derivative; k < size; k++) {
    let factor = 1;
    for (let d = 0; d < derivative; d++) factor *= k - d;
    asked[k] = (factor * at ** (k - derivative)) / scale ** derivative;
  }
  const solved = solveSymmetric(normal, size, asked);
  const weights = new Float64Array(window);
  for (let i = 0; i < window; i++) {
    const row = powers((i - half) / scale);
    let sum = 0;
    for (let k = 0; k < size; k++) sum += row[k]! * solved[k]!;
    weights[i] = sum;
  }
  return weights;
}

/** Sum of weight x value from a place on. */
function weightedSum(weights: Float64Array, values: Float64Array, from: number): number {
  let sum = 0;
  for (let i = 0; i < weights.length; i++) sum += weights[i]! * values[from + i]!;
  return sum;
}

/**
 * Sums of weight x value round each sample that has a whole window. Weights alike on both sides (but for
 * the sign, of odd derivatives) meet two values at a time, and four places are summed side by side: each
 * value is then read once for four of them.
 */
function sumsRound(
  weights: Float64Array,
  values: Float64Array,
  factor: number,
  out: Float64Array,
  derivative: number,
): void {
  const half = (weights.length - 1) / 2;
  const side = weights.slice(half).map((weight) => factor * weight);
  const sign = derivative % 2 === 0 ? 1 : -1;
  const middle = side[0]!;
  const last = values.length - half;
  let i = half;
  for (; i + 3 < last; i += 4) {
    let [high0, high1, high2] = [values[i]!, values[i + 1]!, values[i + 2]!];
    let [low1, low2, low3] = [high1, high2, values[i + 3]!];
    let [sum0, sum1, sum2, sum3] = [middle * high0, middle * high1, middle * high2, middle * low3];
    let low0 = high0;
    let high3 = low3;
    for (let k = 1; k <= half; k++) {
      const weight = side[k]!;
      high0 = high1;
      high1 = high2;
      high2 = high3;
      high3 = values[i + 3 + k]!;
      low3 = low2;
      low2 = low1;
      low1 = low0;
      low0 = values[i - k]!;
      sum0 += weight * (high0 + sign * low0);
      sum1 += weight * (high1 + sign * low1);
      sum2 += weight * (high2 + sign * low2);
      sum3 += weight * (high3 + sign * low3);
    }
    out[i] = sum0;
    out[i + 1] = sum1;
    out[i + 2] = sum2;
    out[i + 3] = sum3;
  }
  for (; i < last; i++) {
    let sum = middle * values[i]!;
    for (let k = 1; k <= half; k++) sum += side[k]! * (values[i + k]! + sign * values[i - k]!);
    out[i] = sum;
  }
}

export type SavitzkyGolayOptions = Readonly<{
  window: number;
  degree: number;
  derivative: number;
  /** Time between samples, s, by which derivatives are scaled. */
  stepS: number;
}>;

/**
 * The filter over a column. Near the ends the polynomial of the first (last) whole window is
 * evaluated off its middle (edges by interpolation).
 *
 * @param values evenly spaced samples; at least one window long
 * @param options window (odd), degree, derivative, step
 * @returns smoothed values or derivatives, per second^derivative
 */
export function savitzkyGolay(values: Float64Array, options: SavitzkyGolayOptions): Float64Array {
  const { window, degree, derivative, stepS } = options;
  invariant(values.length >= window, 'column shorter than the window');
  const half = (window - 1) / 2;
  const factor = 1 / stepS ** derivative;
  const out = new Float64Array(values.length);
  const apply = (weights: Float64Array, from: number): number =>
    factor * weightedSum(weights, values, from);
  const middle = savitzkyGolayWeights(window, degree, derivative, half);
  sumsRound(middle, values, factor, out, derivative);
  for (let place = 0; place < half; place++) {
    out[place] = apply(savitzkyGolayWeights(window, degree, derivative, place), 0);
    const mirrored = window - 1 - place;
    out[values.length - 1 - place] = apply(
      savitzkyGolayWeights(window, degree, derivative, mirrored),
      values.length - window,
    );
  }
  return out;
}
