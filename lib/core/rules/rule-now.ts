/** Where a rule that bounds a quantity stands at the last row of what is known: value, limit, room and its trend. */
import { NORMAL_95 } from '../math/statistics';
import type { BandRule } from '../session/rule';
import { stretchesBeyond } from './margins';
import { bandLine, bandRoom } from './quantity-rule';
import { type EstimatedQuantity, insideWhen, isBetween, type RuleContext } from './rule-context';
import { placesBeside } from './rule-domain';

/** Time over which a trend is taken, s. Our own choice: long against noise, short against a burn. */
export const TREND_S = 10;

/** Numbers at the last row with a value, in the quantity's SI unit; half-widths are 95 %. */
export type QuantityNow = Readonly<{
  /** Time of that row, s. */
  atS: number;
  value: number;
  /** `null` where the scatter does not tell it. */
  valueHalf: number | null;
  limit: number;
  limitHalf: number;
  /** Limit minus value (value minus limit for a lower bound): below 0 is beyond. NaN where no limit is known. */
  room: number;
  roomHalf: number | null;
  /** Change of the room per second over the last `TREND_S`; `null` with too few rows. */
  trendPerS: number | null;
  trendHalfPerS: number | null;
  /** Start of the stretch beyond the limit in which the row lies; `null` where it lies in none. */
  beyondSinceS: number | null;
  isInForce: boolean;
}>;

/** The last row with a value; -1 for none. */
function lastRow({ value }: EstimatedQuantity): number {
  let row = value.length - 1;
  while (row >= 0 && Number.isNaN(value[row])) row--;
  return row;
}

type Trend = Readonly<{ perS: number; halfPerS: number | null }>;

/**
 * Slope of a straight line through the last rows, by least squares.
 *
 * Neighbours' errors hang together over the quantity's span, so only one row a span counts as a
 * measurement of its own.
 */
function trendOf(
  quantity: EstimatedQuantity,
  room: Float64Array,
  row: number,
  sd: number,
): Trend | null {
  const { tS, stretches } = quantity;
  const stretch = stretches.find(({ from, to }) => row >= from && row < to);
  const atS = tS[row] ?? Number.NaN;
  let from = row;
  while (from > (stretch?.from ?? row) && atS - (tS[from - 1] ?? Number.NaN) <= TREND_S) from--;
  let count = 0;
  let sumT = 0;
  let sumY = 0;
  for (let i = from; i <= row; i++) {
    const y = room[i] ?? Number.NaN;
    if (Number.isNaN(y)) continue;
    count++;
    sumT += (tS[i] ?? 0) - atS;
    sumY += y;
  }
  let spread = 0;
  let product = 0;
  for (let i = from; i <= row; i++) {
    const y = room[i] ?? Number.NaN;
    if (Number.isNaN(y)) continue;
    const t = (tS[i] ?? 0) - atS - sumT / count;
    spread += t * t;
    product += t * (y - sumY / count);
  }
  const lastedS = atS - (tS[from] ?? atS);
  if (count < 3 || !(spread > 0) || lastedS < TREND_S / 2) return null;
  const own = Math.max(2, Math.min(count, lastedS / Math.max(quantity.spanS, 1e-9)));
  const half = NORMAL_95 * sd * Math.sqrt(count / own / spread);
  return { perS: product / spread, halfPerS: quantity.noise === 'unknown' ? null : half };
}

/** Whether the rule applies at a row: its place, and the step that is under way. */
function inForce(
  rule: BandRule,
  context: RuleContext,
  place: Readonly<{ rangeM: number; axialM: number; atS: number }>,
): boolean {
  const { when } = rule;
  if (when === null) return true;
  if (!isBetween(place.rangeM, when.rangeM) || !isBetween(place.axialM, when.axialM)) return false;
  const states = { rangeM: null, axialM: null, step: null, mode: when.mode };
  if (insideWhen(states, place.atS, context) === 'outside') return false;
  return when.step === null || isUnderWay(when.step, context);
}

/** Whether a step is the one that was being flown when what is known ends. */
export function isUnderWay(step: string, context: RuleContext): boolean {
  const span = context.steps.get(step);
  return span !== undefined && span.endS >= (context.evaluated?.toS ?? Number.NaN) - 1e-6;
}

/**
 * A quantity rule at the end of what is known.
 *
 * @param quantity the rule's quantity, estimated from what is known alone
 * @returns `null` where the quantity has no value at all
 */
export function quantityNow(
  rule: BandRule,
  quantity: EstimatedQuantity,
  context: RuleContext,
): QuantityNow | null {
  const row = lastRow(quantity);
  if (row < 0) return null;
  const places = placesBeside(quantity, context);
  const { room, roomSd, limit, limitSdAt } = bandRoom(rule, quantity, places);
  const at = (column: Float64Array): number => column[row] ?? Number.NaN;
  const isKnown = quantity.noise !== 'unknown';
  const trend = trendOf(quantity, room, row, at(quantity.sd));
  const line = bandLine(rule, quantity, room, context);
  const atS = at(quantity.tS);
  const stretches = typeof line === 'string' ? [] : stretchesBeyond(line, 0);
  const beyond = stretches.findLast(({ endS }) => endS >= atS - 1e-9);
  return {
    atS,
    value: at(quantity.value),
    valueHalf: isKnown ? NORMAL_95 * at(quantity.sd) : null,
    limit: at(limit),
    limitHalf: NORMAL_95 * limitSdAt(row),
    room: at(room),
    roomHalf: isKnown ? NORMAL_95 * at(roomSd) : null,
    trendPerS: trend?.perS ?? null,
    trendHalfPerS: trend?.halfPerS ?? null,
    beyondSinceS: beyond?.startS ?? null,
    isInForce: inForce(rule, context, {
      rangeM: at(places.rangeM),
      axialM: at(places.axialM),
      atS,
    }),
  };
}
