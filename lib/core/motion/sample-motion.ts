/** Values of the estimated motion between rows. */
import { lowerBound } from '../math/search';
import type { MotionColumn, MotionEstimate } from './motion-estimate';
import type { RowSpan } from './row-span';

/**
 * Rows around a time within one stretch: `row` and the share of the way to the next one.
 * `null` inside a gap, before the first row and after the last.
 */
export function rowsAround(
  motion: MotionEstimate,
  atS: number,
): Readonly<{ row: number; share: number }> | null {
  const { tS, stretches } = motion;
  const after = lowerBound(tS, atS);
  if (tS[after] === atS) return { row: after, share: 0 };
  if (after === 0 || after === tS.length) return null;
  if (!isInside(stretches, after)) return null;
  const beforeS = tS[after - 1] ?? atS;
  const afterS = tS[after] ?? atS;
  return { row: after - 1, share: (atS - beforeS) / (afterS - beforeS) };
}

/** True where a row and the one before it lie in one stretch; by halving, since each row of another source asks. */
function isInside(stretches: readonly RowSpan[], row: number): boolean {
  let low = 0;
  let high = stretches.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((stretches[middle]?.to ?? row) <= row) low = middle + 1;
    else high = middle;
  }
  const span = stretches[low];
  return span !== undefined && row > span.from;
}

/**
 * A column at a time, linear between rows, never through a gap and never beyond the data.
 *
 * @returns the value; NaN in a gap, outside the rows, or where the column has none
 */
export function motionAt(motion: MotionEstimate, column: MotionColumn, atS: number): number {
  const place = rowsAround(motion, atS);
  if (place === null) return Number.NaN;
  const values = motion[column];
  const here = values[place.row] ?? Number.NaN;
  if (place.share === 0) return here;
  const next = values[place.row + 1] ?? Number.NaN;
  return here + place.share * (next - here);
}

/**
 * As `motionAt`, but across a gap in a straight line and held before the first and after the last
 * row: for edges of phases, which a gap does not end.
 */
export function motionThrough(motion: MotionEstimate, column: MotionColumn, atS: number): number {
  const { tS } = motion;
  const values = motion[column];
  const n = tS.length;
  let after = lowerBound(tS, atS);
  while (after < n && Number.isNaN(values[after])) after++;
  let before = lowerBound(tS, atS);
  if (before >= n || (tS[before] ?? atS) > atS) before--;
  while (before >= 0 && Number.isNaN(values[before])) before--;
  const low = values[before] ?? Number.NaN;
  const high = values[after] ?? Number.NaN;
  if (before < 0) return high;
  if (after >= n || before === after) return low;
  const fromS = tS[before] ?? atS;
  const toS = tS[after] ?? atS;
  return low + ((high - low) * (atS - fromS)) / (toS - fromS);
}
