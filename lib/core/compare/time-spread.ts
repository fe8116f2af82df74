/** Mean, deviation and peak of a column over a stretch, in time. */
import type { RowSpan } from '../motion/row-span';

/**
 * `sd` is the population standard deviation; `peak` the value farthest from zero, with its sign.
 * `durationS` is the time with values. All NaN, and 0 s, where there are none.
 */
export type TimeSpread = Readonly<{ mean: number; sd: number; peak: number; durationS: number }>;

/** Rows with their times, values and the spans between gaps. */
export type SpreadColumn = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  spans: readonly RowSpan[];
}>;

type Piece = (atStart: number, atEnd: number, durationS: number) => void;

/** Calls back for each straight line between neighbouring rows, cut at both ends of the stretch. */
function eachPiece({ tS, values, spans }: SpreadColumn, fromS: number, toS: number, on: Piece) {
  for (const { from, to } of spans) {
    for (let row = from; row + 1 < to; row++) {
      const t0 = tS[row] ?? Number.NaN;
      const t1 = tS[row + 1] ?? Number.NaN;
      if (t1 <= fromS || t0 >= toS) continue;
      const v0 = values[row] ?? Number.NaN;
      const v1 = values[row + 1] ?? Number.NaN;
      if (Number.isNaN(v0) || Number.isNaN(v1)) continue;
      const start = Math.max(t0, fromS);
      const end = Math.min(t1, toS);
      const slope = (v1 - v0) / (t1 - t0);
      on(v0 + slope * (start - t0), v0 + slope * (end - t0), end - start);
    }
  }
}

/**
 * Mean, population standard deviation and peak over `[fromS, toS]`, weighted by time: rows that lie
 * closer together do not count for more. Between rows of a span the value is a straight line, whose
 * first and second moment are integrated exactly; ends inside a pair of rows are interpolated, gaps
 * are left out. Squares are summed about the mean, in a second pass: a small deviation about a large
 * mean keeps its digits.
 *
 * Source: elementary; the integral of the square of a straight line is dt (a^2 + a b + b^2) / 3.
 */
export function spreadOverTime(column: SpreadColumn, fromS: number, toS: number): TimeSpread {
  let durationS = 0;
  let first = 0;
  let peak = 0;
  eachPiece(column, fromS, toS, (a, b, dtS) => {
    durationS += dtS;
    first += (dtS * (a + b)) / 2;
    if (Math.abs(a) > Math.abs(peak)) peak = a;
    if (Math.abs(b) > Math.abs(peak)) peak = b;
  });
  if (durationS === 0) return { mean: Number.NaN, sd: Number.NaN, peak: Number.NaN, durationS };
  const mean = first / durationS;
  let second = 0;
  eachPiece(column, fromS, toS, (start, end, dtS) => {
    const a = start - mean;
    const b = end - mean;
    second += (dtS * (a * a + a * b + b * b)) / 3;
  });
  return { mean, sd: Math.sqrt(second / durationS), peak, durationS };
}
