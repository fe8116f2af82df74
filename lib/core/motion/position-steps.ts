/** Steps in a measured position that its velocity does not carry. */
import { lowerBound } from '../math/search';
import { slidingLine } from '../math/sliding-line';
import { type Differences, scatterOf } from './step-scatter';

/** A step at the first row after it; `sizeM` is new minus old, `sizeSdM` its standard deviation. */
export type PositionStep = Readonly<{ row: number; sizeM: number; sizeSdM: number }>;

/** Offsets between position samples and the travelled way, on rows without a gap. */
export type OffsetStretch = Readonly<{
  tS: Float64Array;
  /** NaN = no position at the row. */
  offsetM: Float64Array;
  /** Quick noise of each, standard deviation, m. */
  sdM: Float64Array;
  /** The velocity whose way was taken off, m/s. */
  velocityMps: Float64Array;
  /** The same as measured, where that one is smoothed: jets between two rows show in it. */
  asMeasuredMps?: Float64Array;
  /** Time between two measured velocities, s, where rows repeat each; absent where every row has one. */
  updateS?: number;
  /** What its own quick noise makes the way wander by, variance per second. */
  walkM2PerS: number;
}>;

/**
 * Lines are fitted over each of these on either side of a supposed step, s: short ones reach close to a gap and
 * to another step and hold little of what hangs together, long ones hold more samples.
 */
const SPANS_S = [5, 10, 20] as const;
/** Step over its standard error from which it counts. */
const THRESHOLD = 7;
/** No smaller step counts, m: numbers without noise tell steps of their last digit. Our own choice. */
const LEAST_STEP_M = 1e-3;
const FEWEST = 8;
/** Longer stretches are looked over in so many means first, with a lower threshold. */
const COARSE_ROWS = 20_000;
const COARSE_SHARE = 0.6;
/** And what that finds in finer means, before all rows are. */
const FINER_SHARE = 0.8;
/** Round what was found there, rows this far away tell by how much lines differ without a step, s. */
const ROUND_S = 150;
/**
 * While the velocity swings, the way between its samples and any lag of it is off by up to the swing times
 * this, s. A step has to be larger, or the ring's push at contact would be one.
 */
const SWING_SPAN_S = 1;
/** The swing that counts is that over half the shortest lines that show the step, or so many rows, on either side. */
const SWING_ROWS = 2;
/** What the lines' difference at the edge holds of a random walk: its variance per second times the span. */
const WALK_SHARE = 4 / 15;
/** Lines that run across a step differ too, the other way: nearer to one than so many spans nothing else is told. */
const BESIDE_SPANS = 1.5;

/** The rows that have a position, as columns of their own. */
type Known = Readonly<{
  tS: Float64Array;
  offsetM: Float64Array;
  sdM: Float64Array;
  rows: Int32Array;
  walkM2PerS: number;
}>;

function knownRows({ tS, offsetM, sdM, walkM2PerS }: OffsetStretch): Known {
  const rows = new Int32Array(tS.length);
  let count = 0;
  for (let row = 0; row < rows.length; row++)
    if (!Number.isNaN(offsetM[row] ?? Number.NaN)) rows[count++] = row;
  if (count === rows.length) return { tS, offsetM, sdM, rows, walkM2PerS }; // as a rule: nothing to gather
  const known = rows.subarray(0, count);
  const take = (column: Float64Array): Float64Array =>
    Float64Array.from(known, (row) => column[row] ?? Number.NaN);
  return { tS: take(tS), offsetM: take(offsetM), sdM: take(sdM), rows: known, walkM2PerS };
}

/** Largest less smallest velocity round a row, m/s. */
function swingMps(
  { tS }: OffsetStretch,
  velocityMps: Float64Array,
  row: number,
  besideS: number,
): number {
  const atS = tS[row] ?? Number.NaN;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  const take = (at: number): boolean => {
    const awayS = Math.abs((tS[at] ?? Number.NaN) - atS);
    if (!(awayS <= besideS || Math.abs(at - row) <= SWING_ROWS)) return false;
    low = Math.min(low, velocityMps[at] ?? low);
    high = Math.max(high, velocityMps[at] ?? high);
    return at >= 0 && at < tS.length;
  };
  for (let at = row; take(at); at--);
  for (let at = row + 1; take(at); at++);
  return high > low ? high - low : 0;
}

/** A row at which lines before and after differ, with its place among the known rows. */
type Found = Readonly<{ index: number; sizeM: number; sizeSdM: number; spanS: number }>;

/** Differences of lines over a span; NaN nearer to the ends than the span. */
function differences(known: Known, spanS: number): Differences {
  const n = known.tS.length;
  const column = () => new Float64Array(n);
  const sizeM = column().fill(Number.NaN);
  const sizeSdM = column().fill(Number.NaN);
  const lastS = known.tS[n - 1] ?? 0;
  const firstS = known.tS[0] ?? 0;
  if (n < 2 * FEWEST || lastS - firstS < 2 * spanS) return { spanS, sizeM, sizeSdM };
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
  slidingLine(block, spanS / 2, FEWEST, line);
  let before = 0;
  let after = 0;
  for (let i = 1; i < n; i++) {
    const edgeS = ((known.tS[i - 1] ?? 0) + (known.tS[i] ?? 0)) / 2;
    if (edgeS - firstS < spanS || lastS - edgeS < spanS) continue;
    while ((known.tS[before + 1] ?? Number.POSITIVE_INFINITY) <= edgeS - spanS / 2) before++;
    while ((known.tS[after] ?? Number.POSITIVE_INFINITY) < edgeS + spanS / 2) after++;
    const carried = (at: number): number =>
      (line.value[at] ?? 0) + (line.slope[at] ?? 0) * (edgeS - (known.tS[at] ?? 0));
    const spread = (at: number): number =>
      (line.leverage[at] ?? 0) + (line.slopeLeverage[at] ?? 0) * (edgeS - (known.tS[at] ?? 0)) ** 2;
    const quick = (known.sdM[i] ?? 0) ** 2 * (spread(before) + spread(after));
    sizeM[i] = carried(after) - carried(before);
    sizeSdM[i] = Math.sqrt(quick + WALK_SHARE * spanS * known.walkM2PerS);
  }
  return { spanS, sizeM, sizeSdM };
}

/** Where lines over a span differ by more than `threshold` standard errors; of those within a span the surest. */
function scanSpan(known: Known, spanS: number, threshold: number): readonly Found[] {
  const seen = differences(known, spanS);
  const scatterAt = scatterOf(seen, known.tS);
  const found: Found[] = [];
  let best: Found & { score: number } = { score: 0, index: -1, sizeM: 0, sizeSdM: 0, spanS };
  for (let i = 1; i < known.tS.length; i++) {
    const sizeM = seen.sizeM[i] ?? Number.NaN;
    const sizeSdM = scatterAt(i);
    const score = Math.abs(sizeM) / sizeSdM;
    if (!(score > threshold)) continue;
    if (
      best.index >= 0 &&
      (known.tS[i] ?? 0) - (known.tS[best.index] ?? 0) > BESIDE_SPANS * spanS
    ) {
      found.push(best);
      best = { score, index: i, sizeM, sizeSdM, spanS };
    } else if (score > best.score) best = { score, index: i, sizeM, sizeSdM, spanS };
  }
  if (best.index >= 0) found.push(best);
  return found;
}

/** Steps by lines of all spans; what longer ones find near one is that step. */
function scan(known: Known, threshold: number): readonly Found[] {
  const n = known.tS.length;
  if (n < 2 * FEWEST) return [];
  const leastS = (FEWEST * ((known.tS[n - 1] ?? 0) - (known.tS[0] ?? 0))) / (n - 1);
  const spans = new Set(SPANS_S.map((spanS) => Math.max(spanS, leastS)));
  const steps: Found[] = [];
  for (const spanS of spans) {
    for (const one of scanSpan(known, spanS, threshold)) {
      const awayS = (step: Found): number =>
        Math.abs((known.tS[step.index] ?? 0) - (known.tS[one.index] ?? 0));
      const near = steps.filter((step) => awayS(step) <= BESIDE_SPANS * spanS);
      const [only] = near;
      if (only === undefined) steps.push(one);
      // The same step by more samples: with no other step among them it is known better.
      else if (near.length === 1 && only.index === one.index && one.sizeSdM < only.sizeSdM)
        steps[steps.indexOf(only)] = { ...one, spanS: only.spanS };
    }
  }
  return steps.sort((a, b) => a.index - b.index);
}

/** Means of so many known rows at a time; a row's noise goes down with their root. */
function averaged(known: Known, rows: number): Known {
  const n = Math.floor(known.tS.length / rows);
  const out: Known = {
    tS: new Float64Array(n),
    offsetM: new Float64Array(n),
    sdM: new Float64Array(n),
    rows: new Int32Array(n),
    walkM2PerS: known.walkM2PerS,
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
    walkM2PerS: known.walkM2PerS,
  };
}

/** False where means of fewer rows than before show no step either: of nearly all places, for little. */
function mayHold(known: Known): boolean {
  const rows = Math.floor(known.tS.length / COARSE_ROWS);
  return rows < 2 || scan(averaged(known, rows), FINER_SHARE * THRESHOLD).length > 0;
}

/** Steps among many rows: looked for in means of them, then placed among the rows round each. */
function scanLong(known: Known): readonly Found[] {
  const rows = Math.floor(known.tS.length / COARSE_ROWS);
  if (rows < 2) return scan(known, THRESHOLD);
  const coarse = averaged(known, rows);
  const found: Found[] = [];
  let doneTo = 0;
  for (const { index } of scan(coarse, COARSE_SHARE * THRESHOLD)) {
    const atS = coarse.tS[index] ?? 0;
    const from = lowerBound(known.tS, atS - ROUND_S);
    const to = lowerBound(known.tS, atS + ROUND_S);
    if (to <= doneTo) continue;
    doneTo = to;
    const here = part(known, from, to);
    if (!mayHold(here)) continue;
    for (const near of scan(here, THRESHOLD)) {
      const placed = { ...near, index: from + near.index };
      const last = found[found.length - 1];
      const isNew =
        last === undefined ||
        (known.tS[placed.index] ?? 0) - (known.tS[last.index] ?? 0) > BESIDE_SPANS * near.spanS;
      if (isNew) found.push(placed);
    }
  }
  return found;
}

/**
 * Finds steps: lines over 5, 10 and 20 s of the offset before and after a row, carried to it, differ by
 * more than seven standard errors, by more than a millimetre, and by more than the way is uncertain while
 * the velocity swings. The standard error is that of the quick noise of position and way, or what such lines
 * differ by in the middle of all places, or of those round it, where that is more. A velocity in other axes tilts the lines and makes no step.
 *
 * @param stretch rows without a gap
 * @returns ascending; steps closer together than 5 s count as one, the largest
 */
export function findPositionSteps(stretch: OffsetStretch): readonly PositionStep[] {
  const known = knownRows(stretch);
  return scanLong(known)
    .map(({ index, ...step }) => ({ ...step, row: known.rows[index] ?? 0 }))
    .filter(({ row, sizeM, spanS }) => {
      const { tS, velocityMps, asMeasuredMps = velocityMps, updateS = 0 } = stretch;
      const betweenS = Math.max(updateS, (tS[row] ?? Number.NaN) - (tS[row - 1] ?? Number.NaN));
      const lagM = SWING_SPAN_S * swingMps(stretch, velocityMps, row, spanS / 2);
      const unseenM = betweenS * swingMps(stretch, asMeasuredMps, row, spanS / 2);
      return Math.abs(sizeM) > Math.max(LEAST_STEP_M, lagM, unseenM);
    })
    .map(({ row, sizeM, sizeSdM }) => ({ row, sizeM, sizeSdM }));
}
