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
  let best: Extreme | null = null;
  for (const piece of line.pieces) {
    for (let i = piece.from; i < piece.to; i++) {
      const room = line.room[i] ?? Number.NaN;
      if (best === null || room < best.value) best = { value: room, atS: line.tS[i] ?? Number.NaN };
    }
  }
  return best;
}

/** The larger of two straight lines over `[0, lengthS]`, at its lowest, and never under `floor`. */
function lowestOfTwo(
  a0: number,
  a1: number,
  b0: number,
  b1: number,
  floor: number,
): Readonly<{ value: number; share: number }> {
  const at = (share: number): number =>
    Math.max(a0 + share * (a1 - a0), b0 + share * (b1 - b0), floor);
  let best = { value: at(0), share: 0 };
  const end = at(1);
  if (end < best.value) best = { value: end, share: 1 };
  const slopes = a1 - a0 - (b1 - b0);
  if (slopes !== 0) {
    const share = (b0 - a0) / slopes;
    if (share > 0 && share < 1 && at(share) < best.value) best = { value: at(share), share };
  }
  return best;
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
  for (;;) {
    const leftS = left + 1 < piece.to ? (tS[left + 1] ?? 0) : Number.POSITIVE_INFINITY;
    const rightS = right + 1 < piece.to ? (tS[right + 1] ?? 0) : Number.POSITIVE_INFINITY;
    const nextS = Math.min(leftS, rightS - persistsS, stopS);
    const lowest = lowestOfTwo(
      valueAt(left, atS),
      valueAt(left, nextS),
      valueAt(right, Math.min(lastS, atS + persistsS)),
      valueAt(right, Math.min(lastS, nextS + persistsS)),
      inside.value,
    );
    if (lowest.value < best.value) {
      best = { value: lowest.value, atS: atS + lowest.share * (nextS - atS) };
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
