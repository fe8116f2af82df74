/** Linear least squares with a handful of columns. */

/** Coefficients with their covariance for data of variance 1, and the sum of squares left over. */
export type LinearFit = Readonly<{
  coefficients: Float64Array;
  /** Row-major, over the variance of one datum. */
  covariance: Float64Array;
  residual: number;
}>;

/** Sums from which a fit follows: `normal` row-major, `right`, and the sum of squares of the data. */
export type NormalSums = Readonly<{
  normal: Float64Array;
  right: Float64Array;
  square: number;
}>;

/**
 * Solves the normal equations by Cholesky's factors.
 *
 * @param sums of products of the columns with each other and with the data
 * @returns `null` where the columns cannot be told apart
 *
 * Valid: columns scaled to the order of 1 by the caller.
 * Source: elementary; Cholesky decomposition.
 */
export function solveNormal(sums: NormalSums): LinearFit | null {
  const { normal, right, square } = sums;
  const n = right.length;
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = normal[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= lower[i * n + k]! * lower[j * n + k]!;
      if (i !== j) {
        lower[i * n + j] = sum / lower[j * n + j]!;
        continue;
      }
      if (!(sum > 1e-12 * normal[i * n + i]!)) return null;
      lower[i * n + i] = Math.sqrt(sum);
    }
  }
  // The inverse of the lower factor, column by column; covariance = its transpose times itself.
  const inverse = new Float64Array(n * n);
  for (let column = 0; column < n; column++) {
    for (let i = column; i < n; i++) {
      let sum = i === column ? 1 : 0;
      for (let k = column; k < i; k++) sum -= lower[i * n + k]! * inverse[k * n + column]!;
      inverse[i * n + column] = sum / lower[i * n + i]!;
    }
  }
  const covariance = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      let sum = 0;
      for (let k = Math.max(i, j); k < n; k++) sum += inverse[k * n + i]! * inverse[k * n + j]!;
      covariance[i * n + j] = sum;
    }
  }
  const coefficients = new Float64Array(n);
  let explained = 0;
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += covariance[i * n + j]! * right[j]!;
    coefficients[i] = sum;
    explained += sum * right[i]!;
  }
  return { coefficients, covariance, residual: Math.max(0, square - explained) };
}

/**
 * Fits data by the given columns.
 *
 * @param columns one array for each unknown, as long as the data
 * @param data what is fitted
 */
export function fitColumns(columns: readonly Float64Array[], data: Float64Array): LinearFit | null {
  const n = columns.length;
  const normal = new Float64Array(n * n);
  const right = new Float64Array(n);
  let square = 0;
  for (let row = 0; row < data.length; row++) {
    const y = data[row]!;
    square += y * y;
    for (let i = 0; i < n; i++) {
      const a = columns[i]![row]!;
      right[i] = right[i]! + a * y;
      for (let j = 0; j <= i; j++) normal[i * n + j] = normal[i * n + j]! + a * columns[j]![row]!;
    }
  }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) normal[j * n + i] = normal[i * n + j]!;
  return solveNormal({ normal, right, square });
}
