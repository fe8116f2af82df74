/** Where the last pass through given distances lies in a column of samples. */
import type { RowSpan } from '../motion/row-span';

/** `inward`: the distance shrinks on the pass; `outward`: it grows. */
export type PassSense = 'inward' | 'outward';

export type PassRequest = Readonly<{
  /** Distance at each row, m; NaN = not known. */
  distanceM: Float64Array;
  /** Rows between gaps, ascending: nothing is interpolated from one span to the next. */
  spans: readonly RowSpan[];
  /** Distances asked for, m, strictly ascending. */
  gridM: Float64Array;
  sense: PassSense;
}>;

/**
 * The place of the last passage through each distance of a grid, as a row with a fraction: 12.25 is
 * a quarter of the way from row 12 to row 13.
 *
 * A vehicle that backs off passes a distance twice inward; the later pass counts. Interpolation is
 * linear in distance between neighbouring rows of one span.
 *
 * @returns a place for each grid distance, in the grid's order; NaN where it is never passed
 */
export function lastPassRows({ distanceM, spans, gridM, sense }: PassRequest): Float64Array {
  const rows = new Float64Array(gridM.length).fill(Number.NaN);
  let open = gridM.length;
  let first = 0;
  for (const { from, to } of spans.toReversed()) {
    for (let row = to - 2; row >= from && open > 0; row--) {
      const before = distanceM[row] ?? Number.NaN;
      const after = distanceM[row + 1] ?? Number.NaN;
      const [low, high] = sense === 'inward' ? [after, before] : [before, after];
      if (!(low < high)) continue;
      // Neighbouring rows are near each other on the grid: the first place is looked for from the last one.
      while (first > 0 && (gridM[first - 1] ?? 0) >= low) first--;
      while (first < gridM.length && (gridM[first] ?? 0) < low) first++;
      for (let place = first; place < gridM.length; place++) {
        const wantedM = gridM[place] ?? Number.NaN;
        if (wantedM > high) break;
        if (!Number.isNaN(rows[place])) continue;
        rows[place] = row + (wantedM - before) / (after - before);
        open--;
      }
    }
  }
  return rows;
}
