/** Stretches in which a sensor stood at the end of its range. */
import type { RowStretch } from './faults';
import type { Rhythm } from './rhythm';

/** A value this often in a row at the column's extreme is pinned there. */
const FEWEST_UPDATES = 5;
/** Updates before and after the stretch over which the signal's own pace is taken. */
const PACE_UPDATES = 3;
/**
 * A smooth turn that is written with few digits repeats at its top too. Over five updates a
 * parabola leaves its top by less than one digit, so that beside them it goes at 1.3 digits an
 * update at most; a signal that is cut off arrives and leaves faster.
 */
const LEAST_PACE_DIGITS = 3;

type Shape = Readonly<{ least: number; most: number; digit: number }>;

/** Extremes of a column and the smallest change between its rows; digit 0 where nothing changes. */
function shapeOf(values: Float64Array): Shape {
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  let digit = Number.POSITIVE_INFINITY;
  let previous = Number.NaN;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (Number.isNaN(value)) continue;
    if (value < least) least = value;
    if (value > most) most = value;
    const change = Math.abs(value - previous);
    if (change > 0 && change < digit) digit = change;
    previous = value;
  }
  return { least, most, digit: Number.isFinite(digit) ? digit : 0 };
}

/** Mean change an update over the few updates that lead to a row, or away from it. */
function paceBeside(values: Float64Array, row: number, direction: 1 | -1): number {
  let last = values[row]!;
  let way = 0;
  let updates = 0;
  for (let i = row + direction; i >= 0 && i < values.length && updates < PACE_UPDATES; ) {
    const value = values[i]!;
    i += direction;
    if (Number.isNaN(value) || value === last) continue;
    way += Math.abs(value - last);
    updates++;
    last = value;
  }
  return updates < PACE_UPDATES ? 0 : way / updates;
}

/** Runs of one value at the extreme, each long enough; none through a step that is a gap. */
function pinnedRuns(
  { tS, values }: Column,
  extreme: number,
  leastS: number,
  longestStepS: number,
): readonly RowStretch[] {
  const runs: RowStretch[] = [];
  let first = -1;
  let last = -1;
  let rows = 0;
  const close = (): void => {
    if (first >= 0 && rows >= FEWEST_UPDATES && tS[last]! - tS[first]! >= leastS * (1 - 1e-9))
      runs.push({ from: first, to: last });
    first = -1;
    rows = 0;
  };
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (Number.isNaN(value)) continue;
    if (value !== extreme) {
      close();
      continue;
    }
    if (first >= 0 && tS[i]! - tS[last]! > longestStepS) close();
    if (first < 0) first = i;
    last = i;
    rows++;
  }
  close();
  return runs;
}

/** Times of the rows, s, and the values of one column; NaN cells are passed over. */
type Column = Readonly<{ tS: Float64Array; values: Float64Array }>;

/**
 * Stretches in which a column stays at its largest or smallest value for five updates or more while
 * the signal moves on either side: it arrives and leaves at three of its own digits an update.
 *
 * Never for a column that changes only now and then (a counter, a mode, a controller), and never at
 * exactly 0, where a quantity without a sign rests. A stretch at the edge of the record is not told:
 * nothing shows that the signal moved there.
 *
 * @param column the column
 * @param rhythm how it is renewed; a held one counts its renewals
 * @param longestStepS a stretch does not run through a longer step, s
 * @returns stretches from the first row at the extreme to the last, ascending
 */
export function findSaturated(
  column: Column,
  rhythm: Rhythm,
  longestStepS: number,
): readonly RowStretch[] {
  if (rhythm.kind === 'now-and-then' || rhythm.longestRun < FEWEST_UPDATES) return [];
  const { values } = column;
  const { least, most, digit } = shapeOf(values);
  if (digit === 0) return [];
  const leastS = (FEWEST_UPDATES - 1) * rhythm.periodS;
  const leastPace = LEAST_PACE_DIGITS * digit;
  return [least, most]
    .filter((extreme) => extreme !== 0)
    .flatMap((extreme) => pinnedRuns(column, extreme, leastS, longestStepS))
    .filter(
      ({ from, to }) =>
        paceBeside(values, from, -1) >= leastPace && paceBeside(values, to, 1) >= leastPace,
    )
    .sort((a, b) => a.from - b.from);
}
