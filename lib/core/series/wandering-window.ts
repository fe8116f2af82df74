/** A stretch of a position as data with independent errors of size 1, where the rate wanders a little about none. */
import { lowerBound } from '../math/search';
import { dot, type PositionBins } from './whitened-window';

/** A rate that wanders about none: its standard deviation, m/s, and how long it hangs together, s. */
type RateWander = Readonly<{ sdMps: number; timeS: number }>;

/** Data and columns of one window; all columns that `columnOf` gives are in its terms. */
export type WanderingWindow = Readonly<{
  data: Float64Array;
  /** Squares left over by a level and the wander alone. */
  left: number;
  /** Twice the logarithm of how likely the data are, but for those squares. */
  logWeight: number;
  /** A way over time (of seconds after the window's middle) as a column beside the data. */
  columnOf: (wayM: (atS: number) => number) => Float64Array;
  /**
   * Covariances of the wandering rate at a time with the data, m/s: their product with what nothing else explains of the
   * data is its mean, and their square is what the data take off its variance.
   */
  rateColumn: (atS: number) => Float64Array;
}>;

/** Gains and scales of a filter over way, rate and slow noise at each bin. */
type Gains = Readonly<{
  stepS: Float64Array;
  wayPerRate: Float64Array;
  keepRate: Float64Array;
  keepSlow: Float64Array;
  way: Float64Array;
  rate: Float64Array;
  slow: Float64Array;
  scale: Float64Array;
  logScales: number;
}>;

function gainsOf(bins: PositionBins, from: number, n: number, wander: RateWander): Gains {
  const column = (): Float64Array => new Float64Array(n);
  const [stepS, wayPerRate, keepRate, keepSlow] = [column(), column(), column(), column()];
  const [way, rate, slow, scale] = [column(), column(), column(), column()];
  const { sdMps, timeS } = wander;
  let [xx, xr, xl, rr, rl, ll] = [0, 0, 0, sdMps * sdMps, 0, bins.slow[from] ?? 0];
  let logScales = 0;
  for (let k = 0; k < n; k++) {
    const stationary = bins.slow[from + k] ?? 0;
    if (k > 0) {
      const dt = (bins.tS[from + k] ?? 0) - (bins.tS[from + k - 1] ?? 0);
      const f = Math.exp(-dt / timeS);
      const w = timeS * (1 - f);
      const g = stationary > 0 ? Math.exp(-dt / bins.slowS) : 0;
      stepS[k] = dt;
      wayPerRate[k] = w;
      keepRate[k] = f;
      keepSlow[k] = g;
      const s2 = sdMps * sdMps;
      xx += 2 * w * xr + w * w * rr + s2 * timeS * timeS * ((2 * dt) / timeS - 3 + 4 * f - f * f);
      xr = f * (xr + w * rr) + s2 * timeS * (1 - f) ** 2;
      xl = g * (xl + w * rl);
      rr = f * f * rr + s2 * (1 - f * f);
      rl = f * g * rl;
      ll = g * g * ll + stationary * (1 - g * g);
    }
    const [hx, hr, hl] = [xx + xl, xr + rl, xl + ll];
    const seen = hx + hl + (bins.quick[from + k] ?? 0);
    way[k] = hx / seen;
    rate[k] = hr / seen;
    slow[k] = hl / seen;
    scale[k] = 1 / Math.sqrt(seen);
    logScales += Math.log(seen);
    xx -= (hx * hx) / seen;
    xr -= (hx * hr) / seen;
    xl -= (hx * hl) / seen;
    rr -= (hr * hr) / seen;
    rl -= (hr * hl) / seen;
    ll -= (hl * hl) / seen;
  }
  return { stepS, wayPerRate, keepRate, keepSlow, way, rate, slow, scale, logScales };
}

function whiten(column: Float64Array, gains: Gains): void {
  let [x, r, l] = [0, 0, 0];
  for (let k = 0; k < column.length; k++) {
    x += gains.wayPerRate[k]! * r;
    r *= gains.keepRate[k]!;
    l *= gains.keepSlow[k]!;
    const off = column[k]! - x - l;
    x += gains.way[k]! * off;
    r += gains.rate[k]! * off;
    l += gains.slow[k]! * off;
    column[k] = off * gains.scale[k]!;
  }
}

/** Covariance of the rate at a time with the way from the first bin to another time, m2/s. */
function rateOnWay(
  { sdMps, timeS }: RateWander,
  { fromS, rateS, atS }: Readonly<{ fromS: number; rateS: number; atS: number }>,
): number {
  // The integral of the rate's correlation over the way, before the time and after it.
  const before =
    Math.exp((Math.min(atS, rateS) - rateS) / timeS) - Math.exp((fromS - rateS) / timeS);
  const after = 1 - Math.exp((rateS - Math.max(atS, rateS)) / timeS);
  return sdMps * sdMps * timeS * (before + after);
}

/**
 * The bins within `reachS` of a time, whitened and free of a level: innovations of a filter over the way of a rate that wanders
 * (a first-order process about none), slow noise and white noise, over their own deviations.
 *
 * @param fewest bins that have to lie on either side of the middle
 * @returns `null` where fewer do, or the noise is not known
 *
 * Source: A. C. Harvey, "Forecasting, Structural Time Series Models and the Kalman Filter" (1989), section 3.4
 * (prediction error decomposition); the integrated Ornstein-Uhlenbeck process.
 */
export function wanderingWindow(
  bins: PositionBins,
  middleS: number,
  { reachS, fewest, wander }: Readonly<{ reachS: number; fewest: number; wander: RateWander }>,
): WanderingWindow | null {
  const from = lowerBound(bins.tS, middleS - reachS);
  const to = lowerBound(bins.tS, middleS + reachS);
  const before = lowerBound(bins.tS, middleS) - from;
  const n = to - from;
  if (before < fewest || n - before < fewest) return null;
  const gains = gainsOf(bins, from, n, wander);
  const level = new Float64Array(n).fill(1);
  whiten(level, gains);
  const size = Math.sqrt(dot(level, level));
  if (!(size > 0)) return null;
  for (let k = 0; k < n; k++) level[k] = level[k]! / size;
  const free = (column: Float64Array): Float64Array => {
    whiten(column, gains);
    const along = dot(column, level);
    for (let k = 0; k < n; k++) column[k] = column[k]! - along * level[k]!;
    return column;
  };
  const originM = bins.values[from + before] ?? 0;
  const data = free(bins.values.slice(from, to).map((value) => value - originM));
  const tS = bins.tS.slice(from, to).map((atS) => atS - middleS);
  const columnOf = (wayM: (atS: number) => number): Float64Array =>
    free(tS.map((atS) => wayM(atS)));
  const fromS = tS[0] ?? Number.NaN;
  return {
    data,
    left: dot(data, data),
    logWeight: -gains.logScales - 2 * Math.log(size),
    columnOf,
    rateColumn: (rateS) => columnOf((atS) => rateOnWay(wander, { fromS, rateS, atS })),
  };
}
