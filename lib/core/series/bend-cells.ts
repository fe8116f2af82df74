/** How far samples stand off the middle of two neighbours, by the distance of those. */
import { cutVariance } from '../math/cut-variance';

/** A column of samples with the local scale of their noise: `sd` over one factor. */
export type ScaledColumn = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  sd: Float64Array;
  over: number;
}>;

/** What is measured at one distance of neighbours in one group of samples. */
export type Cell = Readonly<{
  lagS: number;
  /** Variance of the distance to the middle of two neighbours, white noise's being its own. */
  seen: number;
  /** Mean scale squared of the samples. */
  scale2: number;
  /** Independent distances in it. */
  count: number;
}>;

const MOST_IN_CELL = 400;
const FEWEST_IN_CELL = 12;
const GROUPS = 8;
/** Distances beyond this many robust deviations are motion, not noise. */
const CUT = 2.5;

/** The cells of a column at doubling distances. */
export function bendCells(column: ScaledColumn, stepS: number, longestS: number): readonly Cell[] {
  const { tS } = column;
  const n = tS.length;
  const wholeS = (tS[n - 1] ?? 0) - (tS[0] ?? 0);
  const cells: Cell[] = [];
  for (let rows = 1; rows * stepS <= Math.min(longestS, wholeS / 8); rows *= 2) {
    const groups = Math.max(1, Math.min(GROUPS, Math.floor(wholeS / (16 * rows * stepS))));
    for (let g = 0; g < groups; g++) {
      const cell = bendCell(column, rows, [
        Math.floor((g * n) / groups),
        Math.floor(((g + 1) * n) / groups),
      ]);
      if (cell !== null) cells.push(cell);
    }
  }
  return cells;
}

function bendCell(
  { tS, values, sd, over }: ScaledColumn,
  rows: number,
  [from, to]: readonly [number, number],
): Cell | null {
  const work = new Float64Array(MOST_IN_CELL + 1);
  const stride = Math.max(1, Math.ceil((to - from) / MOST_IN_CELL));
  let count = 0;
  let scale2 = 0;
  let lagSum = 0;
  for (let i = from + rows; i + rows < to; i += stride) {
    const [t0, t1, t2] = [tS[i - rows]!, tS[i]!, tS[i + rows]!];
    const weight = (t1 - t0) / (t2 - t0);
    if (!(Math.abs(weight - 0.5) < 0.1)) continue;
    const between = values[i - rows]! + weight * (values[i + rows]! - values[i - rows]!);
    const off = Math.abs(values[i]! - between);
    if (Number.isNaN(off)) continue;
    work[count++] = off;
    const scale = sd[i]! / over;
    scale2 += scale * scale;
    lagSum += (t2 - t0) / 2;
  }
  if (count < FEWEST_IN_CELL) return null;
  return {
    lagS: lagSum / count,
    seen: cutVariance(work, count, CUT) / 1.5,
    scale2: scale2 / count,
    count: Math.min(count, (to - from) / (1.5 * rows)),
  };
}
