/** A stretch of a position as data with independent errors of size 1, free of a straight background. */
import { lowerBound } from '../math/search';
import { meanVarianceFactor, type Samples } from './samples';

/** Samples averaged in short bins, with the variances of the noise's two parts. */
export type PositionBins = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  /** Variance of a bin's quick noise, and of its slow noise, m2. */
  quick: Float64Array;
  slow: Float64Array;
  /** Time constant of the slow noise, s. */
  slowS: number;
}>;

/** Averages the samples `from` up to, not including, `to` over about `binS`. */
export function positionBins(
  samples: Samples,
  span: Readonly<{ from: number; to: number }>,
  binS: number,
): PositionBins {
  const [tS, values, quick, slow]: number[][] = [[], [], [], []];
  const raise = meanVarianceFactor(samples.correlation);
  for (let i = span.from; i < span.to; ) {
    const first = i;
    const startS = samples.tS[i] ?? 0;
    let sumT = 0;
    let sumY = 0;
    while (i < span.to && (i === first || (samples.tS[i] ?? 0) < startS + binS * 0.999)) {
      sumT += samples.tS[i] ?? 0;
      sumY += samples.values[i] ?? 0;
      i++;
    }
    tS?.push(sumT / (i - first));
    values?.push(sumY / (i - first));
    quick?.push(((samples.sd[first] ?? 0) ** 2 * raise) / (i - first));
    slow?.push((samples.slowSd?.[first] ?? 0) ** 2);
  }
  return {
    tS: Float64Array.from(tS ?? []),
    values: Float64Array.from(values ?? []),
    quick: Float64Array.from(quick ?? []),
    slow: Float64Array.from(slow ?? []),
    slowS: samples.slowS,
  };
}

/** Data and columns of one window; all columns that `columnOf` gives are in its terms. */
export type WhitenedWindow = Readonly<{
  /** Seconds after the window's middle. */
  tS: Float64Array;
  middleS: number;
  /** What the straight background leaves of the data. */
  data: Float64Array;
  /** Squares left over by the background alone. */
  left: number;
  /** A way over time (of seconds after the middle) as a column beside the data. */
  columnOf: (wayM: (atS: number) => number) => Float64Array;
}>;

/**
 * Innovations of a first-order process seen through white noise, over their own deviations: the likelihood
 * of data with both noises is that of these with unit white noise. Gains depend on the noise alone, so that
 * columns go through the same filter.
 *
 * Source: A. C. Harvey, "Forecasting, Structural Time Series Models and the Kalman Filter" (1989), section 3.4
 * (prediction error decomposition).
 */
function whitener(bins: PositionBins, from: number, to: number): (column: Float64Array) => void {
  const n = to - from;
  const keep = new Float64Array(n);
  const gain = new Float64Array(n);
  const scale = new Float64Array(n);
  let variance = bins.slow[from] ?? 0;
  for (let k = 0; k < n; k++) {
    const slow = bins.slow[from + k] ?? 0;
    if (k > 0) {
      const stepS = (bins.tS[from + k] ?? 0) - (bins.tS[from + k - 1] ?? 0);
      keep[k] = slow > 0 ? Math.exp(-stepS / bins.slowS) : 0;
      variance = keep[k]! ** 2 * variance + slow * (1 - keep[k]! ** 2);
    }
    const seen = variance + (bins.quick[from + k] ?? 0);
    gain[k] = variance / seen;
    scale[k] = 1 / Math.sqrt(seen);
    variance *= 1 - gain[k]!;
  }
  return (column) => {
    let level = 0;
    for (let k = 0; k < n; k++) {
      level *= keep[k]!;
      const off = column[k]! - level;
      level += gain[k]! * off;
      column[k] = off * scale[k]!;
    }
  };
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k]! * b[k]!;
  return sum;
}

/** Takes the part along unit columns out of a column. */
function takeOut(column: Float64Array, units: readonly Float64Array[]): void {
  for (const unit of units) {
    const along = dot(column, unit);
    for (let k = 0; k < column.length; k++) column[k] = column[k]! - along * unit[k]!;
  }
}

/**
 * The bins within `reachS` of a time, whitened and free of a straight line.
 *
 * @param fewest bins that have to lie on either side of the time
 * @returns `null` where fewer do, or the noise is not known
 */
export function whitenedWindow(
  bins: PositionBins,
  middleS: number,
  { reachS, fewest }: Readonly<{ reachS: number; fewest: number }>,
): WhitenedWindow | null {
  const from = lowerBound(bins.tS, middleS - reachS);
  const to = lowerBound(bins.tS, middleS + reachS);
  const before = lowerBound(bins.tS, middleS) - from;
  if (before < fewest || to - from - before < fewest) return null;
  const tS = bins.tS.slice(from, to);
  for (let k = 0; k < tS.length; k++) tS[k] = tS[k]! - middleS;
  const whiten = whitener(bins, from, to);
  const units: Float64Array[] = [];
  const columnOf = (wayM: (atS: number) => number): Float64Array => {
    const column = new Float64Array(tS.length);
    for (let k = 0; k < tS.length; k++) column[k] = wayM(tS[k]!);
    whiten(column);
    takeOut(column, units);
    return column;
  };
  for (const power of [0, 1]) {
    const unit = columnOf((atS) => (power === 0 ? 1 : atS));
    const size = Math.sqrt(dot(unit, unit));
    if (!(size > 0)) return null;
    for (let k = 0; k < unit.length; k++) unit[k] = unit[k]! / size;
    units.push(unit);
  }
  const data = bins.values.slice(from, to);
  const originM = data[before] ?? 0;
  for (let k = 0; k < data.length; k++) data[k] = data[k]! - originM;
  whiten(data);
  takeOut(data, units);
  return { tS, middleS, data, left: dot(data, data), columnOf };
}
