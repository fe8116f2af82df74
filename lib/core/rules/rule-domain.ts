/** The stretches in which a quantity rule applies, and the room it leaves there. */
import { lowerBound } from '../math/search';
import type { MotionEstimate } from '../motion/motion-estimate';
import { motionAt } from '../motion/sample-motion';
import type { Within } from '../session/rule';
import type { MarginLine } from './margins';
import type { EstimatedQuantity, RuleContext, StateColumn } from './rule-context';

/** A column of the motion on another time base: the same array where the rows are the same. */
function onTimes(
  motion: MotionEstimate,
  column: 'rangeM' | 'axialM' | 'rangeSdM' | 'axialSdM',
  tS: Float64Array,
): Float64Array {
  if (tS === motion.tS) return motion[column];
  return tS.map((atS) => motionAt(motion, column, atS));
}

/** Range and axial distance beside a quantity; NaN throughout without a motion estimate. */
export type Places = Readonly<{
  rangeM: Float64Array;
  rangeSdM: Float64Array;
  axialM: Float64Array;
  axialSdM: Float64Array;
}>;

export function placesBeside(quantity: EstimatedQuantity, context: RuleContext): Places {
  const { motion } = context;
  if (motion === null) {
    const none = new Float64Array(quantity.tS.length).fill(Number.NaN);
    return { rangeM: none, rangeSdM: none, axialM: none, axialSdM: none };
  }
  return {
    rangeM: onTimes(motion, 'rangeM', quantity.tS),
    rangeSdM: onTimes(motion, 'rangeSdM', quantity.tS),
    axialM: onTimes(motion, 'axialM', quantity.tS),
    axialSdM: onTimes(motion, 'axialSdM', quantity.tS),
  };
}

/** The part of a step from `a` to `b` (as shares 0 to 1) with the straight line inside the bounds. */
type Shares = { low: number; high: number };

function clip(shares: Shares, a: number, b: number, low: number, high: number): void {
  // As a rule: the whole step lies inside.
  if (a >= low && a <= high && b >= low && b <= high) return;
  if (Number.isNaN(a) || Number.isNaN(b)) {
    shares.high = -1;
    return;
  }
  if (a === b) {
    if (a < low || a > high) shares.high = -1;
    return;
  }
  const toLow = (low - a) / (b - a);
  const toHigh = (high - a) / (b - a);
  shares.low = Math.max(shares.low, Math.min(toLow, toHigh));
  shares.high = Math.min(shares.high, Math.max(toLow, toHigh));
}

/**
 * The room over the stretches in which a rule applies: inside the evaluated time, inside `within`
 * (edges interpolated), between gaps, where value and limit are known.
 *
 * @param quantity the value over time
 * @param room limit minus value at the quantity's rows
 * @param within the rule's condition; `null` = everywhere
 * @param places range and axial distance at the quantity's rows
 * @param context evaluated time and steps
 * @returns the room on pieces of straight lines; no pieces where it never applies
 */
export function ruleLine(
  quantity: EstimatedQuantity,
  room: Float64Array,
  within: Within | null,
  places: Places,
  context: RuleContext,
): MarginLine {
  const n = quantity.tS.length;
  const outS = new Float64Array(2 * n);
  const outRoom = new Float64Array(2 * n);
  const pieces: { from: number; to: number }[] = [];
  let count = 0;
  let joined = false;
  const step = within?.step ?? null;
  const span = step === null ? null : (context.steps.get(step) ?? null);
  const fromS = Math.max(context.evaluated?.fromS ?? -Infinity, span?.startS ?? -Infinity);
  const toS = Math.min(context.evaluated?.toS ?? Infinity, span?.endS ?? Infinity);
  if (step !== null && span === null) return { tS: outS, room: outRoom, pieces };
  const shares: Shares = { low: 0, high: 1 };
  for (const stretch of quantity.stretches) {
    joined = false;
    for (let i = stretch.from; i + 1 < stretch.to; i++) {
      const t0 = quantity.tS[i] ?? Number.NaN;
      const t1 = quantity.tS[i + 1] ?? Number.NaN;
      const r0 = room[i] ?? Number.NaN;
      const r1 = room[i + 1] ?? Number.NaN;
      shares.low = 0;
      shares.high = 1;
      clip(shares, t0, t1, fromS, toS);
      if (within !== null && within.rangeM !== null) {
        const [low, high] = within.rangeM;
        clip(shares, places.rangeM[i] ?? NaN, places.rangeM[i + 1] ?? NaN, low, high);
      }
      if (within !== null && within.axialM !== null) {
        const [low, high] = within.axialM;
        clip(shares, places.axialM[i] ?? NaN, places.axialM[i + 1] ?? NaN, low, high);
      }
      if (!(shares.low < shares.high) || Number.isNaN(r0 + r1)) {
        joined = false;
        continue;
      }
      if (!joined || shares.low > 0) {
        pieces.push({ from: count, to: count });
        outS[count] = t0 + shares.low * (t1 - t0);
        outRoom[count++] = r0 + shares.low * (r1 - r0);
      }
      outS[count] = shares.high === 1 ? t1 : t0 + shares.high * (t1 - t0);
      outRoom[count++] = shares.high === 1 ? r1 : r0 + shares.high * (r1 - r0);
      const piece = pieces[pieces.length - 1];
      if (piece !== undefined) piece.to = count;
      joined = shares.high === 1;
    }
  }
  return { tS: outS.subarray(0, count), room: outRoom.subarray(0, count), pieces };
}

/** True where range or axial distance passes through the rule's bounds inside a gap. */
export function hiddenByGap(when: Within | null, { motion }: RuleContext): boolean {
  if (motion === null || when === null) return false;
  const passes = (values: Float64Array, bounds: readonly [number, number] | null, row: number) => {
    if (bounds === null) return false;
    const a = values[row - 1] ?? Number.NaN;
    const b = values[row] ?? Number.NaN;
    return Math.min(a, b) <= bounds[1] && Math.max(a, b) >= bounds[0];
  };
  return motion.stretches.some(
    (span) =>
      span.from > 0 &&
      (passes(motion.rangeM, when.rangeM, span.from) ||
        passes(motion.axialM, when.axialM, span.from)),
  );
}

/** A stretch of time, s. */
export type TimeSpan = Readonly<{ fromS: number; toS: number }>;

/**
 * Stretches in which a channel surely holds one of some states: from the first row with it to the last.
 * Between two rows with different states nothing is sure. A row without a value changes nothing.
 */
export function stateSpans(
  { tS, values }: StateColumn,
  is: readonly number[],
): readonly TimeSpan[] {
  const spans: { fromS: number; toS: number }[] = [];
  let isOpen = false;
  for (let row = 0; row < tS.length; row++) {
    const state = values[row] ?? Number.NaN;
    if (Number.isNaN(state)) continue;
    const atS = tS[row] ?? Number.NaN;
    if (!is.includes(state)) isOpen = false;
    else if (isOpen) {
      const span = spans[spans.length - 1];
      if (span !== undefined) span.toS = atS;
    } else {
      spans.push({ fromS: atS, toS: atS });
      isOpen = true;
    }
  }
  return spans;
}

/**
 * The parts of a line inside some stretches of time, edges interpolated.
 *
 * @param spans ascending, apart
 */
export function clipToSpans(line: MarginLine, spans: readonly TimeSpan[]): MarginLine {
  const tS: number[] = [];
  const room: number[] = [];
  const pieces: { from: number; to: number }[] = [];
  const add = (atS: number, value: number): void => {
    tS.push(atS);
    room.push(value);
  };
  for (const piece of line.pieces) {
    for (const { fromS, toS } of spans) {
      const startS = Math.max(fromS, line.tS[piece.from] ?? Infinity);
      const endS = Math.min(toS, line.tS[piece.to - 1] ?? -Infinity);
      if (!(startS < endS)) continue;
      const from = tS.length;
      const rows = line.tS.subarray(piece.from, piece.to);
      // Many short spans in a long piece: each is looked for, not come to.
      for (let i = piece.from + Math.max(0, lowerBound(rows, startS) - 1); i + 1 < piece.to; i++) {
        const t0 = line.tS[i] ?? Number.NaN;
        const t1 = line.tS[i + 1] ?? Number.NaN;
        if (t1 <= startS && t1 !== t0) continue;
        if (t0 >= endS) break;
        const at = (atS: number): number => {
          const r0 = line.room[i] ?? Number.NaN;
          return t1 === t0 ? r0 : r0 + ((atS - t0) / (t1 - t0)) * ((line.room[i + 1] ?? r0) - r0);
        };
        if (tS.length === from) add(Math.max(t0, startS), at(Math.max(t0, startS)));
        add(Math.min(t1, endS), at(Math.min(t1, endS)));
      }
      if (tS.length > from + 1) pieces.push({ from, to: tS.length });
    }
  }
  return { tS: Float64Array.from(tS), room: Float64Array.from(room), pieces };
}
