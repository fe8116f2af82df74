/** How often a channel is renewed: with each row, held between renewals, or now and then. */
import { medianInPlace } from '../math/statistics';
import { medianStep, STAMP_SLACK } from './row-steps';

/** How a channel's values come: changing with each row, held and renewed in step, or now and then. */
export type Rhythm = Readonly<{
  kind: 'each-row' | 'held' | 'now-and-then';
  /** For held data the time between renewals, s; else the median row step. */
  periodS: number;
  /** Most rows after one another with the same value, NaN cells passed over. */
  longestRun: number;
}>;

const FEWEST_RENEWALS = 20;
/**
 * A value that changes slowly and is written in few digits changes by one of them at a time, now sooner, now later: over
 * so many changes that adds up, while a held value keeps its period.
 */
const SEVERAL = 10;
const BY_DIGITS = 0.9;

/** True where every row brings a value, and another one than the row before: measured numbers, as a rule. */
function changesAlways(values: Float64Array): boolean {
  let previous = Number.NaN;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value === previous || Number.isNaN(value)) return false;
    previous = value;
  }
  return true;
}

/**
 * How often a channel is renewed. Held: fewer than half of the rows bring a new value, and four
 * fifths of the new values come at one regular period (within a tenth of it and one row), also over several where
 * all changes are of one digit.
 *
 * @param tS times of the rows, s
 * @param values the column; NaN cells are passed over
 * @param stepS median step of the rows, s
 */
export function channelRhythm(
  tS: Float64Array,
  values: Float64Array,
  stepS = medianStep(tS),
): Rhythm {
  if (values.length > 1 && changesAlways(values)) {
    return { kind: 'each-row', periodS: stepS, longestRun: 1 };
  }
  let rows = 0;
  let runs = 0;
  let longestRun = 0;
  let previous = Number.NaN;
  let startedAt = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (value !== previous) {
      if (Number.isNaN(value)) continue;
      if (rows - startedAt > longestRun) longestRun = rows - startedAt;
      startedAt = rows;
      runs++;
      previous = value;
    }
    rows++;
  }
  longestRun = Math.max(longestRun, rows - startedAt);
  const changes = Math.max(0, runs - 1);
  const common = { periodS: stepS, longestRun };
  if (rows > 1 && changes >= 0.5 * (rows - 1)) return { kind: 'each-row', ...common };
  if (changes < FEWEST_RENEWALS) return { kind: 'now-and-then', ...common };
  const renewedS = renewalTimes(tS, values, changes);
  const periodS = medianPeriod(renewedS);
  const regular = (over: number, nearS: number): boolean =>
    shareNear(renewedS, over, over * periodS, nearS) >= 0.8;
  const rowS = stepS * STAMP_SLACK;
  const held =
    periodS > 1.5 * stepS &&
    regular(1, 0.1 * periodS + rowS) &&
    (!changesByDigits(values, changes) || regular(SEVERAL, 0.1 * SEVERAL * periodS + rowS));
  return held ? { kind: 'held', periodS, longestRun } : { kind: 'now-and-then', ...common };
}

/** Times of the rows that bring a new value, s; the first value is none. */
function renewalTimes(tS: Float64Array, values: Float64Array, changes: number): Float64Array {
  const renewedS = new Float64Array(changes);
  let count = 0;
  let previous = Number.NaN;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (Number.isNaN(value)) continue;
    if (!Number.isNaN(previous) && value !== previous) renewedS[count++] = tS[i]!;
    previous = value;
  }
  return renewedS;
}

/** Median time from one renewal to the next, s. */
function medianPeriod(renewedS: Float64Array): number {
  const count = renewedS.length - 1;
  const work = Float64Array.from({ length: count }, (_, k) => renewedS[k + 1]! - renewedS[k]!);
  return medianInPlace(work, count);
}

/** Share of the times from one renewal to that `over` later that lie near to one, all in s. */
function shareNear(renewedS: Float64Array, over: number, wantedS: number, nearS: number): number {
  let near = 0;
  for (let k = over; k < renewedS.length; k++)
    if (Math.abs(renewedS[k]! - renewedS[k - over]! - wantedS) <= nearS) near++;
  return near / (renewedS.length - over);
}

const SAME_DIGIT = 1 + 1e-6;

/** True where nearly all of so many changes are by one digit, as those of a smooth value that is written in few. */
function changesByDigits(values: Float64Array, changes: number): boolean {
  const most = (1 - BY_DIGITS) * changes;
  let digit = Number.POSITIVE_INFINITY;
  // Changes over the smallest so far are over the smallest of all: as a rule they soon are too many.
  const others = (limit: number): number => {
    let count = 0;
    let previous = Number.NaN;
    for (let i = 0; i < values.length && count <= limit; i++) {
      const value = values[i]!;
      if (Number.isNaN(value) || value === previous) continue;
      const apart = Math.abs(value - previous);
      if (apart < digit) digit = apart;
      else if (apart > digit * SAME_DIGIT) count++;
      previous = value;
    }
    return count;
  };
  return others(most) <= most && others(most) <= most;
}

/** A value that stays for more renewals than so many was renewed to the same one, as in data without noise. Our own choice. */
const LONG_PERIODS = 2.5;

/**
 * Marks repeats of a held value: 1 where the row brings nothing new. A value that outlasts its renewals is one sample
 * at each of them.
 *
 * @param periodS time between renewals, s
 */
export function markRepeats(
  { tS, values }: Readonly<{ tS: Float64Array; values: Float64Array }>,
  periodS: number,
  marks: Uint8Array,
): void {
  const slackS = 0.25 * periodS;
  for (let from = 0; from < values.length; ) {
    const value = values[from]!;
    let to = from + 1;
    if (!Number.isNaN(value)) {
      while (to < values.length && (values[to] === value || Number.isNaN(values[to]!))) to++;
      const lastsS = tS[to - 1]! - tS[from]!;
      let renewedS = lastsS > LONG_PERIODS * periodS ? tS[from]! : Number.POSITIVE_INFINITY;
      for (let row = from + 1; row < to; row++) {
        if (Number.isNaN(values[row]!)) continue;
        if (tS[row]! - renewedS >= periodS - slackS) renewedS = tS[row]!;
        else marks[row] = 1;
      }
    }
    from = to;
  }
}
