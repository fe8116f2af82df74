/** Whether a rate that leaves the signal for a few rows has carried the position beside it. */
import { fitColumns } from '../math/least-squares';
import type { RowStretch } from './faults';

/** Position, m, and its rate, m/s, by row; `longestStepS` is the longest step that is no gap, s. */
export type RateBeside = Readonly<{
  tS: Float64Array;
  position: Float64Array;
  rate: Float64Array;
  longestStepS: number;
}>;

/** So many rows on either side tell, and at least those of so many seconds. */
const BESIDE_ROWS = 24;
const BESIDE_S = 20;
const FEWEST_BESIDE = 4;
/** The positions must be so much likelier with the way of the excursion than without (e to this). Our own choice. */
const LIKELIER = 3;
/**
 * Where the rate rises or returns no faster than jets make it, m/s2, likelier at all is enough; of several rows, which
 * stray seldom after one another, not so much less likely. Our own choice.
 */
const FLYABLE_MPS2 = 0.05;
/** Positions without noise are known to a nanometre. */
const LEAST_VARIANCE_M2 = 1e-18;

/** Rows with both values on either side of the excursion, up to a gap; `null` where they are too few. */
function rowsBeside(beside: RateBeside, { from, to }: RowStretch): readonly number[] | null {
  const { tS, position, rate, longestStepS } = beside;
  const take = (edge: number, direction: 1 | -1): number[] => {
    const rows: number[] = [];
    for (let row = edge + direction; row >= 0 && row < tS.length; row += direction) {
      const awayS = Math.abs(tS[row]! - tS[edge]!);
      if (Math.abs(tS[row]! - tS[row - direction]!) > longestStepS) break;
      if (rows.length >= BESIDE_ROWS && awayS > BESIDE_S) break;
      if (!Number.isNaN(position[row]!) && !Number.isNaN(rate[row]!)) rows.push(row);
    }
    return rows;
  };
  const before = take(from, -1);
  const after = take(to, 1);
  if (before.length < FEWEST_BESIDE || after.length < FEWEST_BESIDE) return null;
  return [...before.reverse(), ...after];
}

/** Way by the trapezoid rule from the first of `rows` to each; `rateAt` is the rate at a row, m/s. */
function wayOver(
  tS: Float64Array,
  rows: readonly number[],
  rateAt: (row: number) => number,
): Float64Array {
  let wayM = 0;
  return Float64Array.from(rows, (row, index) => {
    const last = rows[index - 1];
    if (last !== undefined) wayM += 0.5 * (rateAt(row) + rateAt(last)) * (tS[row]! - tS[last]!);
    return wayM;
  });
}

/** By how much noise that hangs together from row to row knows a step worse than white noise of its size would. */
function hangingTogether(left: Float64Array): number {
  let squares = 0;
  let products = 0;
  for (let i = 0; i < left.length; i++) {
    squares += left[i]! ** 2;
    if (i > 0) products += left[i]! * left[i - 1]!;
  }
  // White noise shows as much by chance.
  if (!(products > (2 * squares) / Math.sqrt(left.length))) return 1;
  const correlation = Math.min(0.9, products / squares);
  return (1 + correlation) / (1 - correlation);
}

/** The least and the most way of an excursion, m. */
type Ways = Readonly<{ leastM: number; mostM: number }>;

/**
 * The way of an excursion that is seen in a few rows: it came at any time since the row before the first of them, and went
 * at any time until the row after the last.
 *
 * @param edges the row before, those inside, the row after
 * @param off by how much a row is off the ground, m/s
 */
function possibleWays(
  tS: Float64Array,
  edges: readonly number[],
  inside: readonly number[],
  off: (row: number) => number,
): Ways {
  const within = wayOver(tS, inside, off);
  const seenM = within[within.length - 1]!;
  const beforeM = off(inside[0]!) * (tS[inside[0]!]! - tS[edges[0]!]!);
  const last = inside[inside.length - 1]!;
  const afterM = off(last) * (tS[edges[edges.length - 1]!]! - tS[last]!);
  const ends = [seenM, seenM + beforeM + afterM];
  return { leastM: Math.min(...ends), mostM: Math.max(...ends) };
}

/**
 * Logarithm of how much likelier a step of the position is with an excursion of any possible way than with none, by
 * the most likely way and the share of all ways that is as likely (Laplace's method).
 */
function carriedOverStray(foundM: number, { leastM, mostM }: Ways, varianceM2: number): number {
  const awayM = Math.max(leastM - foundM, 0, foundM - mostM);
  const share = Math.sqrt(2 * Math.PI * varianceM2) / (mostM - leastM);
  return (foundM ** 2 - awayM ** 2) / (2 * varianceM2) + Math.log(Math.min(1, share));
}

/**
 * Tells a short true excursion of a rate (a jet, seen in a few slow rows) from samples that went astray: a true one
 * has moved the vehicle. The position less the way of the rate without its excursion stands higher behind it
 * by the excursion's own way, or does not.
 *
 * @param beside position and rate
 * @param excursion rows of the rate that leave the signal and return
 * @returns true where the positions are at least 20 times likelier with one of the excursion's ways than without, or, where
 *   jets can make its rise or its return (rows are far apart), likelier at all, or of several rows not 20 times less likely; false
 *   as well where they do not tell
 *
 * Valid: noise of the position that is white or of first order; the rate may be off by a constant, which a slope takes up.
 * Source: elementary; ratio of likelihoods of a step of bounded size at a known place, normal errors.
 */
export function isCarried(beside: RateBeside, excursion: RowStretch): boolean {
  const { tS, position, rate } = beside;
  const rows = rowsBeside(beside, excursion);
  if (rows === null) return false;
  const { from, to } = excursion;
  const originS = tS[from]!;
  const spanS = tS[rows[rows.length - 1]!]! - tS[rows[0]!]!;
  const ones = new Float64Array(rows.length).fill(1);
  const time = Float64Array.from(rows, (row) => (tS[row]! - originS) / spanS);
  const ground = fitColumns(
    [ones, time],
    Float64Array.from(rows, (row) => rate[row]!),
  );
  if (ground === null) return false;
  const groundMps = (row: number): number =>
    ground.coefficients[0]! + (ground.coefficients[1]! * (tS[row]! - originS)) / spanS;
  const before = rows.filter((row) => row < from);
  const inside: number[] = [];
  for (let row = from; row <= to; row++) if (!Number.isNaN(rate[row]!)) inside.push(row);
  const edges = [before[before.length - 1]!, ...inside, rows[before.length]!];
  const off = (row: number): number => rate[row]! - groundMps(row);
  const ways = possibleWays(tS, edges, inside, off);
  const way = wayOver(tS, rows, (row) => rate[row]!);
  const offset = Float64Array.from(rows, (row, index) => position[row]! - way[index]!);
  const behind = Float64Array.from(rows, (row) => (row > to ? 1 : 0));
  const columns = [ones, time, behind];
  const fit = fitColumns(columns, offset);
  if (fit === null) return false;
  const foundM = fit.coefficients[2]!;
  const left = offset.map((value, index) =>
    columns.reduce((rest, column, k) => rest - fit.coefficients[k]! * column[index]!, value),
  );
  const variance = (fit.covariance[8]! * fit.residual * hangingTogether(left)) / (rows.length - 3);
  const changeMps2 = (a: number, b: number): number =>
    Math.abs(rate[b]! - rate[a]!) / Math.abs(tS[b]! - tS[a]!);
  const slowestMps2 = Math.min(
    changeMps2(edges[0]!, inside[0]!),
    changeMps2(inside[inside.length - 1]!, edges[edges.length - 1]!),
  );
  const isFlyable = slowestMps2 <= FLYABLE_MPS2;
  const needed = !isFlyable ? LIKELIER : inside.length > 1 ? -LIKELIER : 0;
  return carriedOverStray(foundM, ways, Math.max(variance, LEAST_VARIANCE_M2)) > needed;
}
