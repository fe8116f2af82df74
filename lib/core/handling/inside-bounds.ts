/** How much of a task was flown inside its bounds, and how often they were left. */
import type { RowSpan } from '../motion/row-span';

/** A quantity over rows; `spans` are the rows between gaps. */
export type BoundedColumn = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  spans: readonly RowSpan[];
}>;

/**
 * `insideS` of `durationS` the size was at most the bound; `overshoots` counts how often it was left from inside: a
 * stretch that begins outside, at its start or behind a gap, has left nothing there.
 * `share` is NaN where there is no time.
 */
export type InsideBounds = Readonly<{
  durationS: number;
  insideS: number;
  share: number;
  overshoots: number;
}>;

/** Length of the part of a straight line from `a` to `b`, as a share, with a size at most `bound`. */
function shareInside(a: number, b: number, bound: number): number {
  if (a === b) return Math.abs(a) <= bound ? 1 : 0;
  const at = (value: number): number => (value - a) / (b - a);
  const [first, second] = [at(-bound), at(bound)].sort((x, y) => x - y);
  const from = Math.max(0, first ?? 0);
  const to = Math.min(1, second ?? 0);
  return Math.max(0, to - from);
}

/**
 * Time inside `[-bound, bound]`, exact for straight lines between rows; gaps are left out.
 *
 * Source: elementary. A sine of amplitude A is inside b < A for (2 / pi) asin(b / A) of its time.
 */
export function insideBounds({ tS, values, spans }: BoundedColumn, bound: number): InsideBounds {
  let durationS = 0;
  let insideS = 0;
  let overshoots = 0;
  for (const { from, to } of spans) {
    // A span that begins outside has left nothing yet.
    let wasInside = false;
    for (let row = from; row < to; row++) {
      const here = values[row] ?? Number.NaN;
      if (Number.isNaN(here)) continue;
      const isInside = Math.abs(here) <= bound;
      if (wasInside && !isInside) overshoots++;
      wasInside = isInside;
      const next = values[row + 1] ?? Number.NaN;
      if (row + 1 >= to || Number.isNaN(next)) continue;
      const stepS = (tS[row + 1] ?? Number.NaN) - (tS[row] ?? Number.NaN);
      durationS += stepS;
      insideS += stepS * shareInside(here, next, bound);
    }
  }
  return { durationS, insideS, share: insideS / durationS, overshoots };
}
