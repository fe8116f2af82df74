/** The room that a quantity leaves to its nearer bound, with its noise. */
import { lowerBound } from '../math/search';
import type { MarginLine } from './margins';
import type { EstimatedQuantity } from './rule-context';

/** A quantity, the room it leaves where the rule applies, and the noise of that. */
export type RoomOverTime = Readonly<{
  quantity: EstimatedQuantity;
  line: MarginLine;
  /** Standard deviation of the room at the quantity's rows. */
  roomSd: Float64Array;
  /** The nearer bound at them: 1 the upper, -1 the lower; absent: the upper. */
  side?: Int8Array;
  stepS: number;
}>;

/** A column between rows, linear; used only inside pieces, where neighbours are known. */
export function columnAt(tS: Float64Array, values: Float64Array, atS: number): number {
  return valueBefore(tS, values, atS, lowerBound(tS, atS));
}

/** As `columnAt` where the first row at or after the time is known. */
export function valueBefore(
  tS: Float64Array,
  values: Float64Array,
  atS: number,
  after: number,
): number {
  const high = values[Math.min(after, values.length - 1)] ?? Number.NaN;
  if (after === 0 || after >= tS.length || tS[after] === atS) return high;
  const low = values[after - 1] ?? Number.NaN;
  const t0 = tS[after - 1] ?? atS;
  const t1 = tS[after] ?? atS;
  return low + ((atS - t0) / (t1 - t0)) * (high - low);
}
