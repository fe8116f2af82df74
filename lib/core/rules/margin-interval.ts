/** How well margins and exceedances are known: half-widths of 95 %. */
import { crossingResolutionS, isLeap } from '../math/edge-resolution';
import {
  biased95,
  COMPETES_WITHIN,
  type Competing,
  extreme95,
  flattenedCrossing,
} from '../math/extreme-interval';
import { lowerBound } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import { jumpHeld } from '../motion/unseen-rates';
import { coursedMarginHalf } from './course-margin';
import { type Beyond, type Extreme, type MarginLine, persistentMargin } from './margins';
import { underWorstRow } from './peak-between-rows';
import { columnAt, type RoomOverTime, valueBefore } from './room-over-time';

/** Rows `[from, to)` of a line whose room is known to lie within 1.96 of its standard deviations. */
type Calm = { from: number; to: number };

type EdgeNoise = Readonly<{ sd: number; half: number }>;

/**
 * From an edge to where the room leaves its half-width there, s; to the end of the piece where it never does. Calm rows
 * are passed over at once: many edges may lie in one stretch of them.
 */
function leavesNoiseS(
  { line, quantity, roomSd }: RoomOverTime,
  calm: Calm,
  { edgeS, sd, half }: EdgeNoise & Readonly<{ edgeS: number }>,
  walk: Readonly<{ start: number; direction: 1 | -1; from: number; to: number }>,
): number {
  const { start, direction, from, to } = walk;
  const wide = sd > 0 ? half / sd : NORMAL_95;
  let nearS = edgeS;
  let nearOver = -half;
  let isCalm = start >= calm.from - 1 && start <= calm.to;
  for (let i = start; i >= from && i < to; i += direction) {
    if (isCalm && i >= calm.from && i < calm.to) {
      i = direction > 0 ? Math.min(calm.to, to) - 1 : Math.max(calm.from, from);
    }
    const atS = line.tS[i] ?? edgeS;
    const size = Math.abs(line.room[i] ?? 0);
    const sdHere = columnAt(quantity.tS, roomSd, atS);
    const over = size - wide * sdHere;
    if (over > 0) {
      const share = over === nearOver ? 1 : Math.min(1, Math.max(0, nearOver / (nearOver - over)));
      return Math.abs(nearS + share * (atS - nearS) - edgeS);
    }
    isCalm &&= size <= NORMAL_95 * sdHere;
    if (isCalm) {
      calm.from = Math.min(calm.from, i);
      calm.to = Math.max(calm.to, i + 1);
    }
    nearS = atS;
    nearOver = over;
  }
  return Math.abs(nearS - edgeS);
}

/** How far from an edge the room stays within its half-width there, s: the edge's half-width. */
function edgeHalfS(
  room: RoomOverTime,
  calm: Calm,
  piece: number,
  edge: EdgeNoise & Readonly<{ edgeS: number }>,
): number {
  const { line, stepS } = room;
  const { edgeS, sd } = edge;
  const span = line.pieces[piece];
  if (span === undefined) return 0;
  const firstS = line.tS[span.from] ?? edgeS;
  const lastS = line.tS[span.to - 1] ?? edgeS;
  if (edgeS <= firstS || edgeS >= lastS) return 0.475 * stepS;
  const after = Math.max(span.from, lowerBound(line.tS.subarray(0, span.to), edgeS));
  if (after < calm.from || after > calm.to) [calm.from, calm.to] = [after, after];
  const noise =
    (leavesNoiseS(room, calm, edge, { ...span, start: after - 1, direction: -1 }) +
      leavesNoiseS(room, calm, edge, { ...span, start: after, direction: 1 })) /
    2;
  return Math.max(noise, crossingResolutionS(line.tS, line.room, after, edgeS, sd));
}

/** How long the room stays within noise of its worst, to either side: the half-width of the time. */
function worstHalfS(line: MarginLine, beyond: Beyond, sd: number, stepS: number): number {
  const band = NORMAL_95 * Math.SQRT2 * sd;
  let lowS = beyond.worstS;
  let highS = beyond.worstS;
  const from = lowerBound(line.tS, beyond.startS);
  for (let i = from; i < line.tS.length && (line.tS[i] ?? 0) <= beyond.endS; i++) {
    if ((line.room[i] ?? 0) - beyond.worstRoom > band) continue;
    lowS = Math.min(lowS, line.tS[i] ?? lowS);
    highS = Math.max(highS, line.tS[i] ?? highS);
  }
  return Math.max((highS - lowS) / 2, 0.475 * stepS);
}

/** The estimates that compete for the smallest room: each that may be as small in truth. */
function competingFor(
  { line, roomSd, quantity, stepS }: RoomOverTime,
  extreme: Readonly<{ value: number }>,
): Competing {
  let count = 0;
  const firstS = line.tS[line.pieces[0]?.from ?? 0] ?? Number.NaN;
  // The last row at or before the point; the pieces may be a short part of all.
  let row = Math.max(0, lowerBound(quantity.tS, firstS) - 1);
  for (const piece of line.pieces) {
    for (let i = piece.from; i < piece.to; i++) {
      const atS = line.tS[i] ?? Number.NaN;
      while (row + 1 < quantity.tS.length && (quantity.tS[row + 1] ?? Number.NaN) <= atS) row++;
      const own = roomSd[row] ?? Number.NaN;
      // An excursion that stands out is one fit: its rows are off together, and do not compete.
      if (quantity.unseen?.[row] === 0) continue;
      if ((line.room[i] ?? Number.NaN) - extreme.value <= COMPETES_WITHIN * own) count++;
    }
  }
  const partingPerS = quantity.partingPerS ?? 1 / Math.max(quantity.spanS, stepS);
  return { lastsS: Math.max(0, count - 1) * stepS, partingPerS, stepS };
}

/** The line's points from one time to another, in the piece that holds both. */
function around(line: MarginLine, fromS: number, toS: number): MarginLine {
  const pieces = line.pieces.flatMap((piece) => {
    const from = Math.max(piece.from, lowerBound(line.tS, fromS));
    const to = Math.min(piece.to, lowerBound(line.tS, toS) + 1);
    return from < to ? [{ from, to }] : [];
  });
  return { ...line, pieces };
}

/**
 * What the spacing of rows adds to a margin with persistence: half the change of the margin there when
 * the time is half a row shorter or longer, since an edge may lie anywhere between two rows.
 */
function rowHalf(evaluation: RoomOverTime, extreme: Extreme, persistsS: number): number {
  if (persistsS <= 0) return 0;
  const { stepS } = evaluation;
  const reachS = persistsS + 4 * stepS;
  const line = around(evaluation.line, extreme.atS - reachS, extreme.atS + persistsS + reachS);
  const shorter = persistentMargin(line, Math.max(0, persistsS - stepS / 2));
  const longer = persistentMargin(line, persistsS + stepS / 2);
  if (shorter === null || longer === null) return 0;
  return Math.max(0, (longer.value - shorter.value) / 2);
}

/** The end of `[atS, atS + persistsS]` with the larger room, s. */
function bindingS(line: MarginLine, atS: number, persistsS: number): number {
  const endS = atS + persistsS;
  const roomAt = (whenS: number): number => columnAt(line.tS, line.room, whenS);
  // A window often ends where both rooms are alike: rounding must not choose between them.
  return persistsS > 0 && roomAt(endS) > roomAt(atS) - 1e-6 ? endS : atS;
}

/**
 * Half-width of the room where the excess is entered (`outward` -1) or left (1): noise, and what the lines
 * flattened if the value stopped rising near to the edge, no higher than `leastHeight` over the limit.
 */
function edgeNoise(
  { quantity, line, roomSd, stepS }: RoomOverTime,
  leastHeight: number,
  edgeS: number,
  outward: 1 | -1,
): EdgeNoise {
  const sd = columnAt(quantity.tS, roomSd, edgeS);
  if (quantity.linesS === undefined) return { sd, half: NORMAL_95 * sd };
  const halfS = quantity.linesS / 2;
  const roomAt = (awayS: number): number => columnAt(line.tS, line.room, edgeS + outward * awayS);
  // Beside the edge the rise is flattened too; farther away it may be over.
  const slope = Math.max(0, roomAt(halfS), roomAt(2 * halfS) - roomAt(halfS)) / halfS;
  // Lines over n rows reach half a row beyond them.
  const bias = flattenedCrossing(slope || 0, leastHeight, quantity.linesS + stepS);
  return { sd, half: biased95(sd, bias) };
}

/** True where the quantity leaps between two rows, as after a jet: far more than beside them. */
function leapsWithin({ quantity }: RoomOverTime, fromS: number, toS: number): boolean {
  const { tS, value, sd } = quantity;
  const change = (row: number): number => {
    const step = Math.abs((value[row] ?? Number.NaN) - (value[row - 1] ?? Number.NaN));
    return Number.isNaN(step) ? 0 : step;
  };
  for (let row = lowerBound(tS, fromS); row < tS.length && (tS[row - 1] ?? fromS) < toS; row++) {
    const beside = Math.max(change(row - 1), change(row + 1));
    if (isLeap(change(row), beside, sd[row] ?? 0)) return true;
  }
  return false;
}

/**
 * What lines may have taken off a margin with persistence: an excess hardly longer than the persistence
 * is flattened at its corners. By no more than half of what the margin changes when the persistence is half
 * a span longer (0.8 of it for one that lasts just the persistence, nothing for one two seconds longer), and
 * no more than half the bend of the room where the window binds (all of it at a corner). Lines do not run
 * across a leap, and flatten nothing there.
 */
function flattenedMargin(evaluation: RoomOverTime, extreme: Extreme, persistsS: number): number {
  const { line, quantity } = evaluation;
  if (persistsS <= 0 || quantity.linesS === undefined) return 0;
  const halfS = quantity.linesS / 2;
  const near = around(line, extreme.atS - 2 * halfS, extreme.atS + persistsS + 2 * halfS);
  const longer = persistentMargin(near, persistsS + halfS);
  if (longer === null) return 0;
  const bindsS = bindingS(line, extreme.atS, persistsS);
  if (leapsWithin(evaluation, bindsS - halfS, bindsS + halfS)) return 0;
  const roomAt = (atS: number): number => columnAt(line.tS, line.room, atS);
  const bend = roomAt(bindsS - halfS) - 2 * roomAt(bindsS) + roomAt(bindsS + halfS);
  const most = Math.min(longer.value - extreme.value, Number.isNaN(bend) ? 0 : Math.abs(bend));
  return Math.max(0, most) / 2;
}

/**
 * How far under the margin the room may have come in excursions that do not stand out of the noise. Up and back at the
 * same slope they last the persistence only under their top by half of it times the slope; a jump holds a share of its height.
 */
function unseenHalf({ line, quantity }: RoomOverTime, extreme: Extreme, persistsS: number): number {
  const { unseen, unseenJump, unseenPerS = 0 } = quantity;
  if (unseen === undefined) return 0;
  const shortOfTop = (unseenPerS * persistsS) / 2;
  const held = jumpHeld(persistsS);
  let lowest = extreme.value;
  let after = 0;
  for (const { from, to } of line.pieces) {
    for (let i = from; i < to; i++) {
      const atS = line.tS[i] ?? Number.NaN;
      while (after < quantity.tS.length && (quantity.tS[after] ?? atS) < atS) after++;
      const sloped = valueBefore(quantity.tS, unseen, atS, after) - shortOfTop;
      const jump = unseenJump === undefined ? 0 : valueBefore(quantity.tS, unseenJump, atS, after);
      lowest = Math.min(lowest, (line.room[i] ?? Number.NaN) - Math.max(0, sloped, held * jump));
    }
  }
  return extreme.value - lowest;
}

/**
 * Half-width of a margin: the smallest of many noisy values, bends that lines flatten, a peak between two rows, the spacing of
 * rows, and excursions that slow noise hides; of a rate with an excursion that stands out, what its courses give.
 *
 * @returns `null` where the scatter does not tell the noise
 */
export function marginHalf(room: RoomOverTime, extreme: Extreme, persistsS: number): number | null {
  const { quantity, line, roomSd } = room;
  if (quantity.noise === 'unknown') return null;
  // The largest room of the window is what counts: at its end where the excess falls off.
  const sd = columnAt(quantity.tS, roomSd, bindingS(line, extreme.atS, persistsS));
  const wide = extreme95(competingFor(room, extreme));
  const coursed = coursedMarginHalf(room, extreme, persistsS, wide);
  const bias =
    persistsS > 0
      ? flattenedMargin(room, extreme, persistsS)
      : underWorstRow(line, extreme.atS, columnAt(quantity.tS, roomSd, extreme.atS));
  const noise = coursed ?? biased95(sd, bias) + (wide - NORMAL_95) * sd;
  return Math.max(
    Math.hypot(noise, rowHalf(room, extreme, persistsS)),
    unseenHalf(room, extreme, persistsS),
  );
}

/** Half-widths of a stretch beyond the limit: of its edges, of its worst moment, and of the worst value. */
export type ExceedanceHalves = Readonly<
  Record<'startHalfS' | 'endHalfS' | 'worstHalfS', number> & { worstHalf: number | null }
>;

/** The half-widths of stretches beyond the limit, one after the other. */
export function exceedanceHalves(room: RoomOverTime): (beyond: Beyond) => ExceedanceHalves {
  const calm: Calm = { from: 0, to: 0 };
  const { quantity, line, roomSd, stepS } = room;
  const { tS, sd } = quantity;
  return (beyond) => {
    // Without the limit's own part: the worst is a value.
    const own = { ...room, roomSd: sd, line: around(line, beyond.startS, beyond.endS) };
    const compete = competingFor(own, { value: beyond.worstRoom });
    const worstSd = columnAt(tS, sd, beyond.worstS);
    const worstHalf =
      biased95(worstSd, underWorstRow(line, beyond.worstS, worstSd)) +
      (extreme95(compete) - NORMAL_95) * worstSd;
    // The height is the largest of noisy values: how near to the edge it stops rising is told by the least it may be.
    const leastHeight = Math.max(0, -beyond.worstRoom - worstHalf);
    const before = edgeNoise(room, leastHeight, beyond.startS, -1);
    const after = edgeNoise(room, leastHeight, beyond.endS, 1);
    return {
      startHalfS: edgeHalfS(room, calm, beyond.piece, { edgeS: beyond.startS, ...before }),
      endHalfS: edgeHalfS(room, calm, beyond.piece, { edgeS: beyond.endS, ...after }),
      worstHalfS: worstHalfS(line, beyond, columnAt(tS, roomSd, beyond.worstS), stepS),
      worstHalf: quantity.noise === 'unknown' ? null : worstHalf,
    };
  };
}
