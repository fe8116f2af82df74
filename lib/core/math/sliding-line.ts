/** Straight lines fitted to a sliding stretch of unevenly spaced samples. */

/** Samples `[from, to)` of a column, none of them NaN. */
export type SampleBlock = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  from: number;
  to: number;
}>;

/** Where to evaluate and what to fill; rows `[from, to)` of the outputs, `null` where not asked for. */
export type LineOutput = Readonly<{
  atS: Float64Array;
  from: number;
  to: number;
  /** The line's value at each time. */
  value: Float64Array;
  /** The line's slope, per second. */
  slope: Float64Array | null;
  /** Variance of the value over the variance of one sample. */
  leverage: Float64Array;
  /** Variance of the slope over the variance of one sample, 1/s2. */
  slopeLeverage: Float64Array | null;
}>;

/** Sums are counted anew after so many steps, and no sooner than after a quarter of the samples in them. */
const RECOUNT_EVERY = 512;
const RECOUNT_SHARE = 0.25;
/** Stamps come rounded (a Julian date to microseconds): samples this share outside the span still count. */
const STAMP_TOLERANCE = 1e-5;

/**
 * Least-squares line over a span of time round each asked time, unweighted. At the ends of the
 * block the span keeps its length and lies inside the block, so that an edge is estimated from one
 * side. With fewer than `minimum` samples in the span, the nearest ones are taken as well.
 *
 * @param block the samples; the caller cuts blocks at gaps and jumps
 * @param halfSpanS half the span, s; one number, or one for each asked time
 * @param minimum least number of samples in a fit, 2 or more (fewer only if the block has fewer)
 * @param output asked times, ascending, and the columns to fill
 *
 * Valid: the motion is straight over the span; sums are re-centred at each step and recounted every
 * 512 steps or more, so rounding stays below 1e-12 of the values.
 * Source: elementary; ordinary least squares.
 */
export function slidingLine(
  block: SampleBlock,
  halfSpanS: number | Float64Array,
  minimum: number,
  output: LineOutput,
): void {
  const { tS, values, from, to } = block;
  const { atS, value, slope: slopes, leverage, slopeLeverage } = output;
  const oneHalfS = typeof halfSpanS === 'number' ? halfSpanS : Number.NaN;
  const halvesS = typeof halfSpanS === 'number' ? null : halfSpanS;
  if (to <= from) return;
  const firstS = tS[from]!;
  const lastS = tS[to - 1]!;
  let low = from;
  let high = from;
  let origin = firstS;
  let n = 0;
  let sumT = 0;
  let sumTT = 0;
  let sumY = 0;
  let sumTY = 0;
  let sinceCount = 0;
  for (let row = output.from; row < output.to; row++) {
    const at = atS[row]!;
    const half = halvesS === null ? oneHalfS : halvesS[row]!;
    const tolerance = half * STAMP_TOLERANCE;
    let startS = at - half;
    let endS = at + half;
    if (startS < firstS) {
      endS = Math.min(lastS, Math.max(endS, firstS + 2 * half));
      startS = firstS;
    } else if (endS > lastS) {
      startS = Math.max(firstS, Math.min(startS, lastS - 2 * half));
      endS = lastS;
    }
    let wantLow = low;
    while (wantLow > from && tS[wantLow - 1]! >= startS - tolerance) wantLow--;
    while (wantLow < to && tS[wantLow]! < startS - tolerance) wantLow++;
    let wantHigh = Math.max(high, wantLow);
    while (wantHigh < to && tS[wantHigh]! <= endS + tolerance) wantHigh++;
    while (wantHigh > wantLow && tS[wantHigh - 1]! > endS + tolerance) wantHigh--;
    while (wantHigh - wantLow < minimum && (wantLow > from || wantHigh < to)) {
      const before = wantLow > from ? at - tS[wantLow - 1]! : Number.POSITIVE_INFINITY;
      const after = wantHigh < to ? tS[wantHigh]! - at : Number.POSITIVE_INFINITY;
      if (before <= after) wantLow--;
      else wantHigh++;
    }
    if (sinceCount === 0 || wantLow >= high || Math.abs(wantLow - low) > 64) {
      low = wantLow;
      high = wantLow;
      origin = at;
      n = 0;
      sumT = 0;
      sumTT = 0;
      sumY = 0;
      sumTY = 0;
    }
    sinceCount++;
    if (sinceCount >= RECOUNT_EVERY && sinceCount >= RECOUNT_SHARE * n) sinceCount = 0;
    const shift = at - origin;
    if (shift !== 0) {
      sumTT += shift * (shift * n - 2 * sumT);
      sumT -= shift * n;
      sumTY -= shift * sumY;
      origin = at;
    }
    while (low < wantLow) {
      const t = tS[low]! - at;
      const y = values[low]!;
      n--;
      sumT -= t;
      sumTT -= t * t;
      sumY -= y;
      sumTY -= t * y;
      low++;
    }
    while (low > wantLow) {
      low--;
      const t = tS[low]! - at;
      const y = values[low]!;
      n++;
      sumT += t;
      sumTT += t * t;
      sumY += y;
      sumTY += t * y;
    }
    while (high < wantHigh) {
      const t = tS[high]! - at;
      const y = values[high]!;
      n++;
      sumT += t;
      sumTT += t * t;
      sumY += y;
      sumTY += t * y;
      high++;
    }
    while (high > wantHigh) {
      high--;
      const t = tS[high]! - at;
      const y = values[high]!;
      n--;
      sumT -= t;
      sumTT -= t * t;
      sumY -= y;
      sumTY -= t * y;
    }
    const spread = sumTT - (sumT * sumT) / n;
    if (n < 2 || spread <= 0) {
      value[row] = sumY / n;
      leverage[row] = 1 / n;
      if (slopes !== null) slopes[row] = 0;
      if (slopeLeverage !== null) slopeLeverage[row] = Number.POSITIVE_INFINITY;
      continue;
    }
    const slope = (sumTY - (sumT * sumY) / n) / spread;
    value[row] = (sumY - slope * sumT) / n;
    leverage[row] = 1 / n + (sumT * sumT) / (n * n * spread);
    if (slopes !== null) slopes[row] = slope;
    if (slopeLeverage !== null) slopeLeverage[row] = 1 / spread;
  }
}
