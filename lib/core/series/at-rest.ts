/** Whether a column that repeats a value to the digit rests there, as data without noise do. */
import type { RowStretch } from './faults';
import { roundingSd, smallestChange } from './written-digits';

/** A column and the one beside it that tells of its rests: of a position its rate, of a rate its position. */
export type RestingColumn = Readonly<{
  tS: Float64Array;
  values: Float64Array;
  rate: Float64Array | null;
  position: Float64Array | null;
  /** A longer step is a gap, s. */
  longestStepS: number;
  /** How long the column holds each value, s; 0 where each row brings one. */
  heldS: number;
}>;

/**
 * So many rows on a side tell whether there is noise. Noise that hides the motion turns back at two of three rows, so that all
 * but the first step of a side lead one way by chance in 1 of 2,000 (of slow noise, whose steps are as likely up as down) or far
 * fewer; in noise that does not, steps grow and shrink in turn at two of three rows.
 */
const BESIDE_ROWS = 13;
const MOST_TURNS = 2;
/** The first step away may be so many times the largest of the following ones. Our own choice. */
const GOES_ON = 1.5;
/** A column that ends at rest has come to it: its last step is at most this share of the one before. */
const COMES_TO_REST = 0.5;
/** Or one that was stopped between two rows, as at contact: the last step is at most this share of what the two before it lead to. */
const STOPPED_SHORT = 0.9;
/** Digits that a step may be off the ones before it, and a position off the way of a rate which is what it says. Our own choice. */
const OFF_DIGITS = 2;
/** What stands beside tells a rest where it is off by no more than this share of the step away. Our own choice. */
const AGREES = 0.1;

/** The steps on one side, outwards: per second, and the first of them as a whole; the shortest time of one, s. */
type Side = Readonly<{ first: number; paces: readonly number[]; leastS: number }>;

function sideOf(
  { tS, values, longestStepS }: RestingColumn,
  start: number,
  direction: 1 | -1,
): Side | null {
  const paces: number[] = [];
  let first = 0;
  let last = start;
  let leastS = longestStepS;
  for (let row = start + direction; paces.length < BESIDE_ROWS; row += direction) {
    const awayS = Math.abs((tS[row] ?? Number.NaN) - tS[last]!);
    if (!(awayS <= longestStepS)) return null;
    if (Number.isNaN(values[row]!)) continue;
    const step = values[row]! - values[last]!;
    if (paces.length === 0) first = step;
    paces.push(step / awayS);
    leastS = Math.min(leastS, awayS);
    last = row;
  }
  return { first, paces, leastS };
}

/** True where the steps of a side after the first, which may be a leap, lead one way and change steadily, to two digits. */
function isSmooth({ paces, leastS }: Side, digit: number): boolean {
  const others = paces.slice(1);
  if (!(others.every((pace) => pace >= 0) || others.every((pace) => pace <= 0))) return false;
  const changes = others
    .map((pace, k) => pace - (others[k - 1] ?? pace))
    .filter((change) => Math.abs(change) > (2 * digit) / leastS);
  const turns = changes.filter((change, k) => change * (changes[k - 1] ?? 0) < 0).length;
  return turns <= MOST_TURNS;
}

/** True where the first step is no leap: one of the column's digits, or about as fast as the following ones. */
function goesOn({ first, paces }: Side, digit: number): boolean {
  const [own = 0, ...others] = paces.map(Math.abs);
  return Math.abs(first) <= digit || own <= GOES_ON * Math.max(...others);
}

/** True where the step into the end is small beside the one before it, or short of it by more than digits. */
function comesToRest({ first, paces, leastS }: Side, digit: number): boolean {
  const [own = 0, before = 0, earlier = 0] = paces.map(Math.abs);
  const due = Math.min(before, 2 * before - earlier) - OFF_DIGITS * (digit / leastS);
  return Math.abs(first) <= digit || own <= COMES_TO_REST * before || own <= STOPPED_SHORT * due;
}

/** True where the column beside has it that the value stayed what it is, within a share of the step away. */
function isBorneOut(column: RestingColumn, { from, to }: RowStretch, awayBy: number): boolean {
  const { tS, values, rate, position } = column;
  const lastsS = tS[to]! - tS[from]!;
  if (rate !== null) {
    let wayM = 0;
    for (let row = from + 1; row < to; row++)
      wayM += Math.abs(rate[row]!) * ((tS[row + 1]! - tS[row - 1]!) / 2);
    return wayM <= AGREES * awayBy;
  }
  if (position === null) return false;
  const meanRate = (position[to]! - position[from]!) / lastsS;
  return Math.abs(meanRate - values[from]!) <= AGREES * awayBy;
}

/** A digit over the standard deviation of rounding to it. */
const DIGIT_PER_SD = Math.sqrt(12);

/** In what a column changes at least, and the digits of the position beside it; 0 where these are not told. */
export type RestDigits = Readonly<{ own: number; position: number }>;

export function restDigits({ values, position }: RestingColumn): RestDigits {
  const positionSd = position === null ? 0 : roundingSd(position);
  return { own: smallestChange(values), position: DIGIT_PER_SD * positionSd };
}

/**
 * True where a position without noise goes on row by row at the very rate that repeats: half a digit of the rate
 * adds up over the stretch, and the position is written in digits of its own. Of what is held the last value may be over.
 */
export function isFlownSo(
  { tS, values, position, heldS }: RestingColumn,
  stretch: RowStretch,
  digits: RestDigits,
): boolean {
  if (position === null || digits.position === 0) return false;
  const rate = values[stretch.from]!;
  const toS = tS[stretch.to]! - heldS;
  for (let row = stretch.from + 1; tS[row]! <= toS; row++) {
    const awayS = tS[row]! - tS[stretch.from]!;
    const leftM = position[row]! - position[stretch.from]! - rate * awayS;
    if (!(Math.abs(leftM) <= OFF_DIGITS * digits.position + 0.5 * digits.own * awayS)) return false;
  }
  return true;
}

/**
 * Tells a rest from a channel that is frozen. Where there is noise a value that repeats is frozen; without noise (the steps
 * beside the stretch lead one way and change steadily) it rests where the column goes on from the value it had, or where the column
 * beside bears it out: a frozen one leaps, for what it shows has moved on meanwhile. A rate rests as well where each row of
 * a position without noise has it so, jets beside the stretch or not.
 *
 * @param column as written; the column beside it as well, `null` for none
 * @param stretch rows of one value
 * @param digits from `restDigits`
 * @returns false as well where too few rows are beside the stretch to tell
 */
export function isAtRest(column: RestingColumn, stretch: RowStretch, digits: RestDigits): boolean {
  if (isFlownSo(column, stretch, digits)) return true;
  const digit = digits.own;
  const before = sideOf(column, stretch.from, -1);
  const after = sideOf(column, stretch.to, 1);
  const sides = [before, after].filter((side) => side !== null);
  if (sides.length === 0 || !sides.every((side) => isSmooth(side, digit))) return false;
  const awayBy = Math.max(...sides.map(({ first }) => Math.abs(first)));
  if (isBorneOut(column, stretch, awayBy)) return true;
  if (after !== null) return goesOn(after, digit * (1 + 1e-6));
  return before !== null && comesToRest(before, digit * (1 + 1e-6));
}
