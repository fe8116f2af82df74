/** How much worse a room may have been between two rows than at its worst row. */
import { isLeap } from '../math/edge-resolution';
import { lowerBound } from '../math/search';
import type { MarginLine } from './margins';

/** A peak under so many times the noise is none. */
const NOISE = 4;

/** Least room between two points `low` and `low + 1` by the lines that lead there from both sides, no more than at these. */
function leastBetween({ tS, room }: MarginLine, low: number, sd: number): number {
  const at = (i: number): number => room[i] ?? Number.NaN;
  const change = (i: number): number => at(i + 1) - at(i);
  const slope = (i: number): number => change(i) / ((tS[i + 1] ?? 0) - (tS[i] ?? 0));
  const [before, behind] = [slope(low - 1), slope(low + 1)];
  const spanS = (tS[low + 1] ?? 0) - (tS[low] ?? 0);
  const beside = Math.max(Math.abs(change(low - 1)), Math.abs(change(low + 1)));
  const ends = Math.min(at(low), at(low + 1));
  if (Number.isNaN(before) || Number.isNaN(behind)) return ends;
  const carriedOn = at(low) + Math.min(0, before) * spanS;
  const carriedBack = at(low + 1) - Math.max(0, behind) * spanS;
  // After a leap at an unknown moment either line may have held all the time.
  if (isLeap(Math.abs(change(low)), beside, sd)) return Math.min(ends, carriedOn, carriedBack);
  // Down by the one and up by the other: where they meet.
  if (!(before < 0 && behind > 0)) return ends;
  const meetS = (at(low + 1) - behind * spanS - at(low)) / (before - behind);
  if (!(meetS > 0 && meetS < spanS)) return ends;
  return Math.min(ends, at(low) + before * meetS);
}

/**
 * How far under the smallest room at a row the room may have come between that row and its neighbours: where the value rises to
 * the row before and falls from the row after, to where these two lines meet; beside a leap, as far as the line behind it leads.
 *
 * @param line the room over time
 * @param atS when it is smallest, s
 * @param sd the room's standard deviation there
 * @returns 0 or more, in the room's unit; 0 where no more than noise would make
 *
 * Valid: straight on either side of one corner between two rows.
 * Source: elementary; two lines and where they meet.
 */
export function underWorstRow(line: MarginLine, atS: number, sd: number): number {
  const row = lowerBound(line.tS, atS - 1e-9);
  const piece = line.pieces.find(({ from, to }) => row >= from && row < to);
  if (piece === undefined) return 0;
  let least = line.room[row] ?? Number.NaN;
  const worst = least;
  for (const low of [row - 1, row]) {
    if (low - 1 < piece.from || low + 2 >= piece.to) continue;
    least = Math.min(least, leastBetween(line, low, sd));
  }
  const under = worst - least;
  return under > 0 ? Math.sqrt(Math.max(0, under * under - (NOISE * sd) ** 2)) : 0;
}
