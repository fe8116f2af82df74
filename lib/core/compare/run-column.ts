/** One quantity of one run, flown or simulated, and how it is asked. */
import { lowerBound } from '../math/search';
import type { RowSpan } from '../motion/row-span';
import { lastPassRows, type PassSense } from './last-pass';

/**
 * A quantity over a run's rows: `tS` strictly ascending, NaN = no value. `spans` are the rows between
 * gaps: nothing is interpolated from one span to the next.
 */
export type RunColumn = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  spans: readonly RowSpan[];
}>;

/** Rows of the spans inside a stretch, with the row beyond each end that an interpolation needs. */
function spansInside({ tS, spans }: RunColumn, fromS: number, toS: number): readonly RowSpan[] {
  const first = Math.max(0, lowerBound(tS, fromS) - 1);
  const last = Math.min(tS.length - 1, lowerBound(tS, toS));
  return spans.flatMap((span): RowSpan[] => {
    const from = Math.max(span.from, first);
    const to = Math.min(span.to, last + 1);
    return to - from < 2 ? [] : [{ from, to }];
  });
}

/** The stretch of a run that is compared, s, and the distances at which it is. */
export type PassQuestion = Readonly<{
  fromS: number;
  toS: number;
  gridM: Float64Array;
  sense: PassSense;
}>;

/**
 * When a run passes each distance for the last time inside a stretch.
 *
 * @param distance axial distance (or range) of the run, m
 * @returns s of the run's time, in the grid's order; NaN where the distance is not passed
 */
export function passTimes(distance: RunColumn, question: PassQuestion): Float64Array {
  const { fromS, toS, gridM, sense } = question;
  const spans = spansInside(distance, fromS, toS);
  const rows = lastPassRows({ distanceM: distance.values, spans, gridM, sense });
  return rows.map((place) => {
    const row = Math.floor(place);
    const beforeS = distance.tS[row] ?? Number.NaN;
    const rest = place - row;
    const atS = rest === 0 ? beforeS : beforeS + rest * ((distance.tS[row + 1] ?? NaN) - beforeS);
    return atS >= fromS && atS <= toS ? atS : Number.NaN;
  });
}

/**
 * Values at given instants, linear between neighbouring rows of a span.
 *
 * @param atS instants in any order, s; NaN gives NaN
 * @returns one value an instant; NaN outside the rows, inside gaps and beside rows without a value
 */
export function valuesAt({ tS, values, spans }: RunColumn, atS: Float64Array): Float64Array {
  return atS.map((instantS) => {
    if (Number.isNaN(instantS)) return Number.NaN;
    const next = lowerBound(tS, instantS);
    if (tS[next] === instantS) return values[next] ?? Number.NaN;
    const isInside = spans.some(({ from, to }) => next > from && next < to);
    if (!isInside) return Number.NaN;
    const beforeS = tS[next - 1] ?? Number.NaN;
    const share = (instantS - beforeS) / ((tS[next] ?? Number.NaN) - beforeS);
    const before = values[next - 1] ?? Number.NaN;
    return before + share * ((values[next] ?? Number.NaN) - before);
  });
}
