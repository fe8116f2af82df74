/** Robustness of a bound over time: margins, and the stretches beyond it. */
import { zeroCrossings } from '../math/zero-crossings';

/**
 * Room left to a limit over time: straight lines between points. `pieces` are `[from, to)` ranges of
 * points that belong together (no gap, inside the rule's `within`).
 */
export type MarginLine = Readonly<{
  tS: Float64Array;
  /** Limit minus value, or value minus limit for a lower bound; below 0 is beyond the limit. */
  room: Float64Array;
  pieces: readonly Readonly<{ from: number; to: number }>[];
}>;

/** A value and when it is reached, s. */
export type Extreme = Readonly<{ value: number; atS: number }>;

/** A stretch beyond the limit, with its worst point. */
export type Beyond = Readonly<{
  startS: number;
  endS: number;
  worstS: number;
  worstRoom: number;
  /** Index of its piece. */
  piece: number;
}>;

/** Smallest room of all; `null` without points. The first of several equal ones. */
export function instantMargin(line: MarginLine): Extreme | null {
  let best = -1;
  for (const { from, to } of line.pieces) {
    for (let i = from; i < to; i++) {
      if (best < 0 || (line.room[i] ?? Number.NaN) < (line.room[best] ?? Number.NaN)) best = i;
    }
  }
  if (best < 0) return null;
  return { value: line.room[best] ?? Number.NaN, atS: line.tS[best] ?? Number.NaN };
}

/** Two straight lines over a share of 0 to 1, by their ends, and a floor under both. */
type TwoLines = Readonly<{ a0: number; a1: number; b0: number; b1: number; floor: number }>;

function higherAt({ a0, a1, b0, b1, floor }: TwoLines, share: number): number {
  return Math.max(a0 + share * (a1 - a0), b0 + share * (b1 - b0), floor);
}

/** The share at which the higher of two lines is lowest; the first of equal ones. */
function lowestShare(lines: TwoLines): number {
  const { a0, a1, b0, b1 } = lines;
  let share = higherAt(lines, 1) < higherAt(lines, 0) ? 1 : 0;
  const slopes = a1 - a0 - (b1 - b0);
  if (slopes === 0) return share;
  const crossing = (b0 - a0) / slopes;
  const isInside = crossing > 0 && crossing < 1;
  if (isInside && higherAt(lines, crossing) < higherAt(lines, share)) share = crossing;
  return share;
}

/** Largest room of points strictly inside a sliding window, by a falling queue. */
class WindowMaximum {
  private readonly queue: Int32Array;
  private head = 0;
  private tail = 0;
  constructor(
    private readonly room: Float64Array,
    size: number,
  ) {
    this.queue = new Int32Array(size + 1);
  }
  add(i: number): void {
    const value = this.room[i] ?? Number.NEGATIVE_INFINITY;
    while (this.tail > this.head && (this.room[this.queue[this.tail - 1] ?? 0] ?? 0) <= value) {
      this.tail--;
    }
    this.queue[this.tail++] = i;
  }
  dropThrough(i: number): void {
    while (this.tail > this.head && (this.queue[this.head] ?? 0) <= i) this.head++;
  }
  get value(): number {
    return this.tail > this.head
      ? (this.room[this.queue[this.head] ?? 0] ?? Number.NEGATIVE_INFINITY)
      : Number.NEGATIVE_INFINITY;
  }
}

/** The margin within one piece; `null` when it is shorter than the persistence. */
function pieceMargin(
  line: MarginLine,
  piece: Readonly<{ from: number; to: number }>,
  persistsS: number,
): Extreme | null {
  const { tS, room } = line;
  const firstS = tS[piece.from] ?? Number.NaN;
  const lastS = tS[piece.to - 1] ?? Number.NaN;
  const slack = 1e-9 * Math.max(1, Math.abs(lastS));
  if (!(lastS - firstS >= persistsS - slack)) return null;
  const valueAt = (left: number, atS: number): number => {
    const t0 = tS[left] ?? atS;
    const r0 = room[left] ?? Number.NaN;
    if (left + 1 >= piece.to) return r0;
    const t1 = tS[left + 1] ?? atS;
    if (t1 <= t0) return room[left + 1] ?? r0;
    return r0 + ((atS - t0) / (t1 - t0)) * ((room[left + 1] ?? r0) - r0);
  };
  // The window [t, t + persists] slides; between two events (one of its ends meets a point) both
  // ends move along straight lines and the points inside stay the same.
  const inside = new WindowMaximum(room, piece.to - piece.from);
  const stopS = Math.max(firstS, lastS - persistsS);
  let left = piece.from;
  let right = piece.from;
  let atS = firstS;
  while (right + 1 < piece.to && (tS[right + 1] ?? 0) <= atS + persistsS) inside.add(++right);
  let best: Extreme = { value: Number.POSITIVE_INFINITY, atS };
  const lines = { a0: 0, a1: 0, b0: 0, b1: 0, floor: 0 };
  for (;;) {
    const leftS = left + 1 < piece.to ? (tS[left + 1] ?? 0) : Number.POSITIVE_INFINITY;
    const rightS = right + 1 < piece.to ? (tS[right + 1] ?? 0) : Number.POSITIVE_INFINITY;
    const nextS = Math.min(leftS, rightS - persistsS, stopS);
    lines.floor = inside.value;
    // Neither line comes under the floor: most windows cannot be the lowest.
    if (!(lines.floor >= best.value)) {
      lines.a0 = valueAt(left, atS);
      lines.a1 = valueAt(left, nextS);
      lines.b0 = valueAt(right, Math.min(lastS, atS + persistsS));
      lines.b1 = valueAt(right, Math.min(lastS, nextS + persistsS));
      const share = lowestShare(lines);
      const value = higherAt(lines, share);
      if (value < best.value) best = { value, atS: atS + share * (nextS - atS) };
    }
    if (nextS >= stopS) return best;
    if (leftS <= nextS) left++;
    if (rightS - persistsS <= nextS) inside.add(++right);
    inside.dropThrough(left);
    atS = nextS;
  }
}

/**
 * Margin of "never beyond the limit for `persistsS`": the smallest over t of the largest room over
 * [t, t + persistsS], exactly for a line of straight parts, in one pass.
 *
 * @param line room over time; pieces shorter than `persistsS` do not count
 * @param persistsS time a stretch beyond the limit must last to count, s, 0 or more
 * @returns the margin and the start of its window; `null` when no piece is long enough. Below 0
 *   exactly when some stretch beyond the limit lasts longer than `persistsS`
 *
 * Source: robustness of signal temporal logic, A. Donze, O. Maler, "Robust satisfaction of temporal
 * logic over real-valued signals", FORMATS 2010; the sliding maximum by D. Lemire's queue.
 */
export function persistentMargin(line: MarginLine, persistsS: number): Extreme | null {
  if (persistsS <= 0) return instantMargin(line);
  let best: Extreme | null = null;
  for (const piece of line.pieces) {
    const found = pieceMargin(line, piece, persistsS);
    if (found !== null && (best === null || found.value < best.value)) best = found;
  }
  return best;
}

/**
 * Stretches beyond the limit that last at least `persistsS`, with interpolated edges; they end at
 * the edge of a piece (a gap, or the end of `within`).
 *
 * @returns in time order; the worst point is where the room is smallest, the first of equal ones
 */
export function stretchesBeyond(line: MarginLine, persistsS: number): readonly Beyond[] {
  const { tS, room } = line;
  const found: Beyond[] = [];
  line.pieces.forEach(({ from, to }, piece) => {
    if (to <= from) return;
    const { rows, atS } = zeroCrossings(tS, room, from, to);
    const startsBelow = (room[from] ?? 0) < 0;
    for (let k = startsBelow ? -1 : 0; k < rows.length; k += 2) {
      const first = k < 0 ? from : (rows[k] ?? to);
      const end = rows[k + 1] ?? to;
      const startS = k < 0 ? (tS[from] ?? Number.NaN) : (atS[k] ?? Number.NaN);
      const endS = end < to ? (atS[k + 1] ?? Number.NaN) : (tS[to - 1] ?? Number.NaN);
      if (!(endS - startS >= persistsS - 1e-9)) continue;
      let worst = first;
      for (let i = first + 1; i < end; i++) if ((room[i] ?? 0) < (room[worst] ?? 0)) worst = i;
      const worstRoom = room[worst] ?? Number.NaN;
      found.push({ startS, endS, worstS: tS[worst] ?? Number.NaN, worstRoom, piece });
    }
  });
  return found;
}
