/** Steps in a measured position that its velocity does not carry. */
import { lowerBound } from '../math/search';
import { slidingLine } from '../math/sliding-line';

/** A step at the first row after it; `sizeM` is new minus old, `sizeSdM` its standard deviation. */
export type PositionStep = Readonly<{ row: number; sizeM: number; sizeSdM: number }>;

/** Offsets between position samples and the travelled way, on rows without a gap. */
export type OffsetStretch = Readonly<{
  tS: Float64Array;
  /** NaN = no position at the row. */
  offsetM: Float64Array;
  /** Noise of each, standard deviation, m. */
  sdM: Float64Array;
  /** The velocity whose way was taken off, m/s. */
  velocityMps: Float64Array;
}>;

/** Lines are fitted over this long on either side of a supposed step, s. */
const SPAN_S = 20;
/** Step over its standard error from which it counts. */
const THRESHOLD = 7;
/** No smaller step counts, m: numbers without noise tell steps of their last digit. Our own choice. */
const LEAST_STEP_M = 1e-3;
const FEWEST = 8;
/** Longer stretches are looked over in so many means first, with a lower threshold. */
const COARSE_ROWS = 20_000;
const COARSE_SHARE = 0.6;
/**
 * While the velocity swings, its smoothed way is itself off by up to the swing times this, s: half
 * the velocity's own span. A step has to be larger, or the ring's push at contact would be one.
 */
const SWING_SPAN_S = 1;

/** The rows that have a position, as columns of their own. */
type Known = Readonly<{
  tS: Float64Array;
  offsetM: Float64Array;
  sdM: Float64Array;
  rows: Int32Array;
}>;

function knownRows({ tS, offsetM, sdM }: OffsetStretch): Known {
  const rows = new Int32Array(tS.length);
  let count = 0;
  for (let row = 0; row < rows.length; row++)
    if (!Number.isNaN(offsetM[row] ?? Number.NaN)) rows[count++] = row;
  if (count === rows.length) return { tS, offsetM, sdM, rows }; // as a rule: nothing to gather
  const known = rows.subarray(0, count);
  const take = (column: Float64Array): Float64Array =>
    Float64Array.from(known, (row) => column[row] ?? Number.NaN);
  return { tS: take(tS), offsetM: take(offsetM), sdM: take(sdM), rows: known };
}

/** Largest less smallest velocity within a span around a row, m/s. */
function swingMps(stretch: OffsetStretch, row: number): number {
  const { tS, velocityMps } = stretch;
  const atS = tS[row] ?? Number.NaN;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const take = (at: number): boolean => {
    const awayS = Math.abs((tS[at] ?? Number.NaN) - atS);
    if (!(awayS <= SPAN_S / 2)) return false;
    low = Math.min(low, velocityMps[at] ?? low);
    high = Math.max(high, velocityMps[at] ?? high);
    return true;
  };
  for (let at = row; take(at); at--);
  for (let at = row + 1; take(at); at++);
  return high > low ? high - low : 0;
}

/** A row at which lines before and after differ, with its place among the known rows. */
type Found = Readonly<{ index: number; sizeM: number; sizeSdM: number }>;

/** Where lines over 20 s before and after differ by more than `threshold` standard errors. */
function scan(known: Known, threshold: number): readonly Found[] {
  const n = known.tS.length;
  const lastS = known.tS[n - 1] ?? 0;
  const firstS = known.tS[0] ?? 0;
  if (n < 2 * FEWEST || lastS - firstS < 2 * SPAN_S) return [];
  const column = () => new Float64Array(n);
  const line = {
    atS: known.tS,
    from: 0,
    to: n,
    value: column(),
    slope: column(),
    leverage: column(),
    slopeLeverage: column(),
  };
  const block = { tS: known.tS, values: known.offsetM, from: 0, to: n };
  slidingLine(block, SPAN_S / 2, FEWEST, line);
  const found: Found[] = [];
  let best = { score: 0, index: -1, sizeM: 0, sizeSdM: 0 };
  let before = 0;
  let after = 0;
  for (let i = 1; i < n; i++) {
    const edgeS = ((known.tS[i - 1] ?? 0) + (known.tS[i] ?? 0)) / 2;
    if (edgeS - firstS < SPAN_S || lastS - edgeS < SPAN_S) continue;
    while ((known.tS[before + 1] ?? Number.POSITIVE_INFINITY) <= edgeS - SPAN_S / 2) before++;
    while ((known.tS[after] ?? Number.POSITIVE_INFINITY) < edgeS + SPAN_S / 2) after++;
    const carried = (at: number): number =>
      (line.value[at] ?? 0) + (line.slope[at] ?? 0) * (edgeS - (known.tS[at] ?? 0));
    const spread = (at: number): number =>
      (line.leverage[at] ?? 0) + (line.slopeLeverage[at] ?? 0) * (edgeS - (known.tS[at] ?? 0)) ** 2;
    const sizeM = carried(after) - carried(before);
    const sizeSdM = (known.sdM[i] ?? 0) * Math.sqrt(spread(before) + spread(after));
    const score = Math.abs(sizeM) / sizeSdM;
    if (best.index >= 0 && (known.tS[i] ?? 0) - (known.tS[best.index] ?? 0) > SPAN_S) {
      found.push(best);
      best = { score: 0, index: -1, sizeM: 0, sizeSdM: 0 };
    }
    if (score > threshold && score > best.score) best = { score, index: i, sizeM, sizeSdM };
  }
  if (best.index >= 0) found.push(best);
  return found;
}

/** Means of so many known rows at a time; a row's noise goes down with their root. */
function averaged(known: Known, rows: number): Known {
  const n = Math.floor(known.tS.length / rows);
  const out: Known = {
    tS: new Float64Array(n),
    offsetM: new Float64Array(n),
    sdM: new Float64Array(n),
    rows: new Int32Array(n),
  };
  for (let k = 0; k < n; k++) {
    let sumT = 0;
    let sumY = 0;
    for (let i = k * rows; i < (k + 1) * rows; i++) {
      sumT += known.tS[i] ?? 0;
      sumY += known.offsetM[i] ?? 0;
    }
    out.tS[k] = sumT / rows;
    out.offsetM[k] = sumY / rows;
    out.sdM[k] = (known.sdM[k * rows] ?? 0) / Math.sqrt(rows);
    out.rows[k] = k * rows;
  }
  return out;
}

function part(known: Known, from: number, to: number): Known {
  return {
    tS: known.tS.subarray(from, to),
    offsetM: known.offsetM.subarray(from, to),
    sdM: known.sdM.subarray(from, to),
    rows: known.rows.subarray(from, to),
  };
}

/** Steps among many rows: looked for in means of them, then placed among the rows round each. */
function scanLong(known: Known): readonly Found[] {
  const rows = Math.floor(known.tS.length / COARSE_ROWS);
  if (rows < 2) return scan(known, THRESHOLD);
  const coarse = averaged(known, rows);
  const found: Found[] = [];
  for (const { index } of scan(coarse, COARSE_SHARE * THRESHOLD)) {
    const atS = coarse.tS[index] ?? 0;
    const from = lowerBound(known.tS, atS - 2 * SPAN_S);
    const to = lowerBound(known.tS, atS + 2 * SPAN_S);
    for (const near of scan(part(known, from, to), THRESHOLD)) {
      const placed = { ...near, index: from + near.index };
      const last = found[found.length - 1];
      const isNew =
        last === undefined || (known.tS[placed.index] ?? 0) - (known.tS[last.index] ?? 0) > SPAN_S;
      if (isNew) found.push(placed);
    }
  }
  return found;
}

/**
 * Finds steps: lines over 20 s of the offset before and after a row, carried to it, differ by more
 * than seven standard errors, by more than a millimetre, and by more than the way is uncertain while
 * the velocity swings. A velocity in other axes tilts the lines and makes no step.
 *
 * @param stretch rows without a gap
 * @returns ascending; steps closer together than 20 s count as one, the largest
 */
export function findPositionSteps(stretch: OffsetStretch): readonly PositionStep[] {
  const known = knownRows(stretch);
  return scanLong(known)
    .map(({ index, ...size }) => ({ row: known.rows[index] ?? 0, ...size }))
    .filter(
      ({ row, sizeM }) =>
        Math.abs(sizeM) > Math.max(LEAST_STEP_M, SWING_SPAN_S * swingMps(stretch, row)),
    );
}
