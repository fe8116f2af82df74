/** A velocity in other axes than its position: what is left grows with the distance. */
import { median, SD_PER_MAD } from '../math/statistics';

/** Columns over the same rows: distance along the axis, a component across it and its velocity. */
export type AcrossColumns = Readonly<{
  tS: Float64Array;
  axialM: Float64Array;
  acrossM: Float64Array;
  acrossMps: Float64Array;
  /** A longer step is a gap, s. */
  longestStepS: number;
}>;

/**
 * `turnRadPerS` times the distance is the rate of the position less the velocity. `furthestM` is the
 * largest distance it was told from.
 */
export type Turning = Readonly<{
  turnRadPerS: number;
  standardError: number;
  furthestM: number;
  fromS: number;
  toS: number;
}>;

/** Rates are compared over spans this long, s: longer than noise, shorter than a phase. */
const SPAN_S = 30;
const FEWEST_SPANS = 8;
/** It has to stand out from its scatter by this, and amount to this at the furthest. */
const LEAST_ERRORS = 6;
const LEAST_MPS = 0.02;
/** Standard error of a median over that of a mean, normal scatter. */
const MEDIAN_ERROR = 1.2533;

type Span = Readonly<{ distanceM: number; leftMps: number }>;

function spansOf(columns: AcrossColumns): readonly Span[] {
  const { tS, axialM, acrossM, acrossMps } = columns;
  const spans: Span[] = [];
  let first = -1;
  let last = -1;
  let carriedM = 0;
  for (let row = 0; row < tS.length; row++) {
    const mps = acrossMps[row] ?? Number.NaN;
    if (Number.isNaN((acrossM[row] ?? Number.NaN) + (axialM[row] ?? Number.NaN) + mps)) continue;
    const stepS = (tS[row] ?? 0) - (tS[last] ?? 0);
    if (first < 0 || stepS > columns.longestStepS) {
      first = row;
      carriedM = 0;
    } else carriedM += 0.5 * (mps + (acrossMps[last] ?? mps)) * stepS;
    last = row;
    const spanS = (tS[row] ?? 0) - (tS[first] ?? 0);
    if (spanS < SPAN_S) continue;
    const changeM = (acrossM[row] ?? 0) - (acrossM[first] ?? 0);
    spans.push({
      distanceM: ((axialM[row] ?? 0) + (axialM[first] ?? 0)) / 2,
      leftMps: (changeM - carriedM) / spanS,
    });
    first = row;
    carriedM = 0;
  }
  return spans;
}

/**
 * Whether the velocity across the axis is that of axes that turn against the position's: the median,
 * over spans of 30 s in the outer half of the approach, of what is left over the distance.
 *
 * An inertial velocity beside a position in axes that turn with the orbit leaves n times the distance,
 * 0.28 m/s at 250 m in a low orbit.
 *
 * @returns null where nothing of that kind stands out
 *
 * Valid: any sampling; a step of the position spoils one span, which the median passes over.
 * Source: elementary, v inertial = v rotating + n x r; see Vallado, "Fundamentals of Astrodynamics and
 * Applications", 4th ed., section 3.7 (from memory).
 */
export function findTurning(columns: AcrossColumns): Turning | null {
  const spans = spansOf(columns);
  const furthestM = spans.reduce((most, { distanceM }) => Math.max(most, distanceM), 0);
  const outer = spans.filter(({ distanceM }) => distanceM > furthestM / 2);
  if (outer.length < FEWEST_SPANS) return null;
  const ratios = outer.map(({ distanceM, leftMps }) => leftMps / distanceM);
  const turnRadPerS = median(ratios);
  const off = ratios.map((ratio) => Math.abs(ratio - turnRadPerS));
  const standardError = (MEDIAN_ERROR * SD_PER_MAD * median(off)) / Math.sqrt(outer.length);
  if (!(Math.abs(turnRadPerS) > LEAST_ERRORS * standardError)) return null;
  if (Math.abs(turnRadPerS) * furthestM < LEAST_MPS) return null;
  const { tS } = columns;
  return {
    turnRadPerS,
    standardError,
    furthestM,
    fromS: tS[0] ?? Number.NaN,
    toS: tS[tS.length - 1] ?? Number.NaN,
  };
}
