/** Counters that begin again at 0: seconds of the day, of the week, and counts of so many bits. */
import { DAY_S } from './calendar';
import { carryDays, type DayTurn, toWholeNanosecond } from './carry-days';
import { WEEK_S } from './scale';

/** Where counters begin again, s: units of time, and counts of 16 and 32 bits. Common practice, no source. */
const SPANS_S = [
  65.536, // 16 bits of ms
  3600,
  4294.967296, // 32 bits of us
  65_536, // 16 bits of s
  DAY_S,
  WEEK_S,
  4_294_967.296, // 32 bits of ms
] as const;

/** A step over the end of a counter is at most this many usual steps. Our own choice. */
const MOST_STEPS = 5;
/** Seconds of the day may pass midnight with a pause as long as this. Our own choice. */
export const LONGEST_MIDNIGHT_S = 3600;
/** Steps that are looked at for the usual one. */
const STEPS_LOOKED_AT = 10_001;

/** What was carried: `tS` goes on at each turn by `spanS`. */
export type CarriedCounter = Readonly<{
  tS: Float64Array;
  turns: readonly DayTurn[];
  spanS: number;
}>;

type Rows = Readonly<{ rows: readonly number[]; lowS: number; highS: number; fallS: number }>;

/** Rows with a stamp; null where none falls, as in nearly every file. */
function fallingRows(tS: Float64Array): Rows | null {
  let [lowS, highS, fallS] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  let beforeS = Number.NaN;
  for (const stampS of tS) {
    if (Number.isNaN(stampS)) continue;
    if (beforeS - stampS > fallS) fallS = beforeS - stampS;
    if (stampS < lowS) lowS = stampS;
    if (stampS > highS) highS = stampS;
    beforeS = stampS;
  }
  if (fallS < Math.min(...SPANS_S) / 2) return null;
  const rows = [...tS.keys()].filter((row) => !Number.isNaN(tS[row]));
  return { rows, lowS, highS, fallS };
}

function usualStepS(tS: Float64Array, rows: readonly number[]): number {
  const steps: number[] = [];
  for (let at = 1; at < rows.length && steps.length < STEPS_LOOKED_AT; at += 1) {
    const stepS = (tS[rows[at] ?? 0] ?? 0) - (tS[rows[at - 1] ?? 0] ?? 0);
    if (stepS > 0) steps.push(stepS);
  }
  return steps.sort((a, b) => a - b)[steps.length >> 1] ?? Number.NaN;
}

/** Where a counter has begun again so often, s after its first 0. */
type CounterEnds = Readonly<{ endS: (count: number) => number; mostS: number; fromS: number }>;

type Found = Readonly<{ counts: Int32Array; turns: readonly DayTurn[] }>;

/** How often the counter has begun again by each row; null where a fall is none of its ends. */
function countTurns(
  tS: Float64Array,
  rows: readonly number[],
  { endS, mostS, fromS }: CounterEnds,
): Found | null {
  const counts = new Int32Array(rows.length);
  const turns: DayTurn[] = [];
  for (let at = 1; at < rows.length; at += 1) {
    const row = rows[at] ?? 0;
    const [beforeS, afterS] = [(tS[rows[at - 1] ?? 0] ?? 0) - fromS, (tS[row] ?? 0) - fromS];
    const stepS = afterS - beforeS;
    let count = counts[at - 1] ?? 0;
    const spanS = endS(count + 1) - endS(count);
    if (stepS < -spanS / 2) {
      if (!(stepS + spanS > 0 && stepS + spanS <= mostS)) return null;
      count += 1;
      turns.push({ row, beforeS, afterS });
    } else if (count > 0 && stepS > spanS / 2 && spanS - stepS <= mostS) {
      // A row that strayed back over the end.
      count -= 1;
    }
    counts[at] = count;
  }
  return turns.length > 0 && (counts.at(-1) ?? 0) > 0 ? { counts, turns } : null;
}

/** Seconds of the day that pause over midnight, as times of day do; null where that is not plain. */
function carryLongMidnight(
  tS: Float64Array,
  fromS: number,
  leapAfter: (days: number) => number,
): CarriedCounter | null {
  const carried = carryDays(tS, fromS, { leapAfter });
  if (carried?.kind !== 'carried') return null;
  const isPlain = carried.turns.every(
    ({ beforeS, afterS }) => afterS < beforeS && afterS + DAY_S - beforeS <= LONGEST_MIDNIGHT_S,
  );
  return isPlain ? { tS: carried.tS, turns: carried.turns, spanS: DAY_S } : null;
}

/**
 * Carries a counter on where it begins again at 0.
 *
 * Unlike times of day a number does not say what it counts, so the counter must end where a known
 * one does: the row before lies under the end of a span, the row after it over 0, and the step
 * between them is one as the rows beside it have, or, over midnight, at most an hour. A counter that
 * was set back elsewhere is left as it is.
 *
 * @param tS stamps in the order of the file, s; NaN where there is none
 * @param fromS the stamp of a count of 0, s
 * @param leapAfter by how many seconds so many days are longer than 86,400 s each
 * @returns null where nothing is to carry
 *
 * Valid: rows in the order of time but for single ones; the first row lies in the first span.
 */
export function carryCounter(
  tS: Float64Array,
  fromS: number,
  leapAfter: (days: number) => number = () => 0,
): CarriedCounter | null {
  const falling = fallingRows(tS);
  if (falling === null || falling.lowS < fromS) return null;
  const { rows, highS, fallS } = falling;
  const mostS = MOST_STEPS * usualStepS(tS, rows);
  for (const spanS of SPANS_S) {
    const leaps = spanS === DAY_S ? leapAfter : () => 0;
    if (highS - fromS >= spanS + leaps(1) || fallS <= spanS / 2) continue;
    const endS = (count: number): number => spanS * count + leaps(count);
    const found = countTurns(tS, rows, { endS, mostS, fromS });
    if (found === null) continue;
    const carried = tS.slice();
    for (const [at, row] of rows.entries()) {
      const count = found.counts[at] ?? 0;
      if (count > 0) carried[row] = toWholeNanosecond((tS[row] ?? NaN) + endS(count));
    }
    return { tS: carried, turns: found.turns, spanS };
  }
  return carryLongMidnight(tS, fromS, leapAfter);
}
