/** Smallest and largest sample in each of many equal parts of a window. Pure; no store in it. */

/** Min, max and number of samples a part; NaN where a part has no sample. */
export type EnvelopeSeries = Readonly<{
  min: Float64Array<ArrayBuffer>;
  max: Float64Array<ArrayBuffer>;
  count: Float64Array<ArrayBuffer>;
}>;

export type Parts = Readonly<{ fromS: number; toS: number; pixels: number }>;

export function emptyEnvelope(pixels: number): EnvelopeSeries {
  return {
    min: new Float64Array(pixels).fill(Number.NaN),
    max: new Float64Array(pixels).fill(Number.NaN),
    count: new Float64Array(pixels),
  };
}

/** The part that an instant falls into; instants outside the window go to its first or last part. */
export function partOf(parts: Parts, timeS: number): number {
  const share = (timeS - parts.fromS) / (parts.toS - parts.fromS);
  return Math.min(parts.pixels - 1, Math.max(0, Math.floor(share * parts.pixels)));
}

function widen(to: EnvelopeSeries, part: number, min: number, max: number, count: number): void {
  if (count === 0 || Number.isNaN(min)) return;
  const low = to.min[part] ?? Number.NaN;
  const high = to.max[part] ?? Number.NaN;
  if (!(low <= min)) to.min[part] = min;
  if (!(high >= max)) to.max[part] = max;
  to.count[part] = (to.count[part] ?? 0) + count;
}

/** Adds single samples; NaN is no sample. */
export function addSamples(
  to: EnvelopeSeries,
  parts: Parts,
  tS: Float64Array,
  values: Float64Array,
): void {
  for (let row = 0; row < tS.length; row += 1) {
    const value = values[row] ?? Number.NaN;
    if (Number.isNaN(value)) continue;
    widen(to, partOf(parts, tS[row] ?? Number.NaN), value, value, 1);
  }
}

/** Columns of a level file over a window. */
export type LevelColumns = Readonly<{
  t0: Float64Array;
  t1: Float64Array;
  min: Float64Array;
  max: Float64Array;
  count: Float64Array;
}>;

/** A bin may lie across one edge; one that covers more parts holds a gap and is read row by row. */
const MOST_PARTS = 2;

/** Positions of bins that cover more parts than two. */
export function wideBins(parts: Parts, t0: Float64Array, t1: Float64Array): number[] {
  const wide: number[] = [];
  for (let bin = 0; bin < t0.length; bin += 1) {
    const span = partOf(parts, t1[bin] ?? 0) - partOf(parts, t0[bin] ?? 0) + 1;
    if (span > MOST_PARTS) wide.push(bin);
  }
  return wide;
}

/**
 * Adds bins of a level file. A bin across an edge counts in both parts, so that a spike is never
 * one part away from where it was.
 */
export function addBins(
  to: EnvelopeSeries,
  parts: Parts,
  bins: LevelColumns,
  leftOut: ReadonlySet<number>,
): void {
  for (let bin = 0; bin < bins.t0.length; bin += 1) {
    if (leftOut.has(bin)) continue;
    const first = partOf(parts, bins.t0[bin] ?? 0);
    const last = partOf(parts, bins.t1[bin] ?? 0);
    for (let part = first; part <= last; part += 1) {
      widen(
        to,
        part,
        bins.min[bin] ?? Number.NaN,
        bins.max[bin] ?? Number.NaN,
        bins.count[bin] ?? 0,
      );
    }
  }
}
