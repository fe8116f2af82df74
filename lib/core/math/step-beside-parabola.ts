/** How much better a step explains samples than a parabola alone. */
import { solveNormal } from './least-squares';

/** Samples `[from, to)` of a column, none of them NaN, and the first one after the step. */
export type StepWindow = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  from: number;
  to: number;
  index: number;
}>;

/**
 * What a step takes off the squares that a parabola leaves of the samples of a window, in one pass.
 *
 * @param window the step lies between `index - 1` and `index`; at least two samples on either side
 * @returns in the square of the column's unit; NaN where the columns cannot be told apart
 *
 * Source: elementary; normal equations of a constant, a line, a parabola and a step.
 */
export function squareOfStep({ tS, values, from, to, index }: StepWindow): number {
  const middleS = (tS[index]! + tS[index - 1]!) / 2;
  const reachS = Math.max(middleS - tS[from]!, tS[to - 1]! - middleS);
  const first = values[index]!;
  const before = powerSums(tS, values, { from, to: index, middleS, reachS, first });
  const after = powerSums(tS, values, { from: index, to, middleS, reachS, first });
  const [n, u, u2, u3, u4, y, uy, u2y, y2] = before.map((sum, k) => sum + after[k]!);
  const [own = 0, ownU = 0, ownU2 = 0, , , ownY = 0] = after;
  const normal = Float64Array.of(
    ...[n!, u!, u2!, own],
    ...[u!, u2!, u3!, ownU],
    ...[u2!, u3!, u4!, ownU2],
    ...[own, ownU, ownU2, own],
  );
  const fit = solveNormal({ normal, right: Float64Array.of(y!, uy!, u2y!, ownY), square: y2! });
  return fit === null ? Number.NaN : fit.coefficients[3]! ** 2 / fit.covariance[15]!;
}

/** Sums of 1, u, u2, u3, u4, y, u y, u2 y and y2, u the time from the middle over the reach. */
function powerSums(
  tS: Float64Array,
  values: Float64Array,
  span: Readonly<Record<'from' | 'to' | 'middleS' | 'reachS' | 'first', number>>,
): Float64Array {
  const { middleS, reachS, first } = span;
  let [u1, u2, u3, u4, y1, uy, u2y, y2] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (let i = span.from; i < span.to; i++) {
    const u = (tS[i]! - middleS) / reachS;
    const y = values[i]! - first;
    const square = u * u;
    u1 += u;
    u2 += square;
    u3 += square * u;
    u4 += square * square;
    y1 += y;
    uy += u * y;
    u2y += square * y;
    y2 += y * y;
  }
  return Float64Array.of(span.to - span.from, u1, u2, u3, u4, y1, uy, u2y, y2);
}
