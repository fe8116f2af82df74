/** The estimated motion of a flight or a run as columns, and values of it at given instants. */
import { lowerBound } from '../math/search';
import type { RowSpan } from '../motion/row-span';

/**
 * Columns over one list of rows: `tS` strictly ascending, NaN = no value. `spans` are the rows between
 * gaps. `steps` holds start and end of each plan step that was flown, s of the same time; `contactS` is
 * null where there was no contact.
 */
export type Track = Readonly<{
  name: string;
  sha256: string;
  tS: Float64Array;
  spans: readonly RowSpan[];
  columns: ReadonlyMap<string, Float64Array>;
  steps: Readonly<Record<string, readonly [startS: number, endS: number]>>;
  contactS: number | null;
}>;

/** Where instants lie between rows: the row before (-1 = nowhere) and the share of the way to the next. */
export type RowPlaces = Readonly<{ row: Int32Array; share: Float64Array }>;

/** Places instants between rows; nothing is interpolated across a gap. */
export function placeInstants({ tS, spans }: Track, atS: Float64Array): RowPlaces {
  const row = new Int32Array(atS.length).fill(-1);
  const share = new Float64Array(atS.length);
  for (let place = 0; place < atS.length; place++) {
    const instantS = atS[place] ?? Number.NaN;
    if (Number.isNaN(instantS)) continue;
    const next = lowerBound(tS, instantS);
    if (tS[next] === instantS) {
      row[place] = next;
      continue;
    }
    if (next === 0 || next === tS.length || !isInside(spans, next)) continue;
    const beforeS = tS[next - 1] ?? Number.NaN;
    row[place] = next - 1;
    share[place] = (instantS - beforeS) / ((tS[next] ?? Number.NaN) - beforeS);
  }
  return { row, share };
}

/** Whether a row and the one before it lie in one span. */
function isInside(spans: readonly RowSpan[], next: number): boolean {
  for (const { from, to } of spans) if (next > from && next < to) return true;
  return false;
}

/**
 * Values at places, linear between rows; NaN nowhere, and beside rows without a value.
 *
 * @param found where they are put; a new column where it is left out
 */
export function valuesAtPlaces(
  values: Float64Array,
  { row, share }: RowPlaces,
  found: Float64Array = new Float64Array(row.length),
): Float64Array {
  for (let place = 0; place < row.length; place++) {
    const at = row[place] ?? Number.NaN;
    const part = share[place] ?? Number.NaN;
    if (at < 0) found[place] = Number.NaN;
    else if (part === 0) found[place] = values[at] ?? Number.NaN;
    else
      found[place] =
        (values[at] ?? Number.NaN) +
        part * ((values[at + 1] ?? Number.NaN) - (values[at] ?? Number.NaN));
  }
  return found;
}
