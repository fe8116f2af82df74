/** Variances of noise fitted to what cells of samples show of them. */
import type { Cell } from './bend-cells';

/** What is seen, one row a cell, as columns of numbers; the parts of unknown variances stand beside it. */
export type SeenRows = Readonly<{ seen: Float64Array; count: Float64Array }>;

const ROUNDS = 60;

/** Unknowns a fit has at most; with fewer the others have no part in any row and stay 0. */
const UNKNOWNS = 4;

export function seenRows(cells: readonly Cell[]): SeenRows {
  return {
    seen: Float64Array.from(cells, (cell) => cell.seen),
    count: Float64Array.from(cells, (cell) => cell.count),
  };
}

/** The four columns of parts, those of unknowns that are not there filled with zeros. */
type Parts = readonly [Float64Array, Float64Array, Float64Array, Float64Array];

function fourParts(parts: readonly Float64Array[], rows: number): Parts {
  const none = new Float64Array(rows);
  const [a = none, b = none, c = none, d = none] = parts;
  return [a, b, c, d];
}

/** One round of the multiplying: `x` is changed. */
function improve({ seen, count }: SeenRows, [part0, part1, part2, part3]: Parts, x: Float64Array) {
  // Written out, since some sixty fits of a flight go sixty times over every row.
  const [x0, x1, x2, x3] = [x[0]!, x[1]!, x[2]!, x[3]!];
  let [up0, up1, up2, up3, down0, down1, down2, down3] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (let row = 0; row < count.length; row++) {
    const p0 = part0[row]!;
    const p1 = part1[row]!;
    const p2 = part2[row]!;
    const p3 = part3[row]!;
    const inverse = 1 / (1e-300 + x0 * p0 + x1 * p1 + x2 * p2 + x3 * p3);
    const down = count[row]! * inverse;
    const up = down * seen[row]! * inverse;
    up0 += up * p0;
    up1 += up * p1;
    up2 += up * p2;
    up3 += up * p3;
    down0 += down * p0;
    down1 += down * p1;
    down2 += down * p2;
    down3 += down * p3;
  }
  x[0] = down0 > 0 ? (x0 * up0) / down0 : 0;
  x[1] = down1 > 0 ? (x1 * up1) / down1 : 0;
  x[2] = down2 > 0 ? (x2 * up2) / down2 : 0;
  x[3] = down3 > 0 ? (x3 * up3) / down3 : 0;
}

/** The least that one unknown alone would have to be in some row where anything is seen. */
function leastAlone(seen: Float64Array, part: Float64Array): number {
  let least = 1e300;
  for (let row = 0; row < seen.length; row++) {
    const size = seen[row]! / Math.max(part[row]!, 1e-300);
    if (size > 0 && size < least) least = size;
  }
  return Math.max(1e-300, least);
}

export type Trial = Readonly<{ x: Float64Array; misfit: number }>;

/** Non-negative weights that explain the rows best (gamma likelihood), by multiplying up and down. */
export function fitVariances(rows: SeenRows, parts: readonly Float64Array[]): Trial {
  const { seen, count } = rows;
  const x = new Float64Array(UNKNOWNS);
  parts.forEach((part, k) => {
    x[k] = leastAlone(seen, part) / parts.length;
  });
  const four = fourParts(parts, seen.length);
  for (let round = 0; round < ROUNDS; round++) improve(rows, four, x);
  const [part0, part1, part2, part3] = four;
  let misfit = 0;
  for (let row = 0; row < seen.length; row++) {
    const model =
      1e-300 +
      x[0]! * part0[row]! +
      x[1]! * part1[row]! +
      x[2]! * part2[row]! +
      x[3]! * part3[row]!;
    misfit += (count[row]! / 2) * (Math.log(model) + seen[row]! / model);
  }
  return { x, misfit };
}
