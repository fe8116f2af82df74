/** Steps in a measured position that its velocity does not carry. */
import { slidingLine } from '../math/sliding-line';

/** A step at the first row after it; `sizeM` is new minus old. */
export type PositionStep = Readonly<{ row: number; sizeM: number }>;

/** Offsets between position samples and the travelled way, on rows without a gap. */
export type OffsetStretch = Readonly<{
  tS: Float64Array;
  /** NaN = no position at the row. */
  offsetM: Float64Array;
  /** Noise of each, standard deviation, m. */
  sdM: Float64Array;
}>;

/** Lines are fitted over this long on either side of a supposed step, s. */
const SPAN_S = 20;
/** Step over its standard error from which it counts. */
const THRESHOLD = 7;
const FEWEST = 8;

type Known = Readonly<{ tS: Float64Array; offsetM: Float64Array; rows: Int32Array; sdM: number }>;

function knownRows(stretch: OffsetStretch): Known {
  const rows: number[] = [];
  let sd = 0;
  for (let row = 0; row < stretch.tS.length; row++) {
    if (Number.isNaN(stretch.offsetM[row])) continue;
    rows.push(row);
    sd += stretch.sdM[row] ?? 0;
  }
  const pick = (column: Float64Array) =>
    Float64Array.from(rows, (row) => column[row] ?? Number.NaN);
  return {
    tS: pick(stretch.tS),
    offsetM: pick(stretch.offsetM),
    rows: Int32Array.from(rows),
    sdM: rows.length === 0 ? 0 : sd / rows.length,
  };
}

/**
 * Finds steps: lines over 20 s of the offset before and after a row, carried to it, differ by more
 * than seven standard errors. A velocity in other axes tilts the lines and makes no step.
 *
 * @param stretch rows without a gap
 * @returns ascending; steps closer together than 20 s count as one, the largest
 */
export function findPositionSteps(stretch: OffsetStretch): readonly PositionStep[] {
  const known = knownRows(stretch);
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
  const steps: PositionStep[] = [];
  let best = { score: 0, index: -1, sizeM: 0 };
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
    const sd = stretch.sdM[known.rows[i] ?? 0] ?? known.sdM;
    const score = Math.abs(sizeM) / (sd * Math.sqrt(spread(before) + spread(after)));
    if (best.index >= 0 && (known.tS[i] ?? 0) - (known.tS[best.index] ?? 0) > SPAN_S) {
      steps.push({ row: known.rows[best.index] ?? 0, sizeM: best.sizeM });
      best = { score: 0, index: -1, sizeM: 0 };
    }
    if (score > THRESHOLD && score > best.score) best = { score, index: i, sizeM };
  }
  if (best.index >= 0) steps.push({ row: known.rows[best.index] ?? 0, sizeM: best.sizeM });
  return steps;
}
