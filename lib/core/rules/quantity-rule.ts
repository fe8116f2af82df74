/** A quantity that stays between two bounds, either of which may be open. */

import { lowerBound, profileAt, profileSlopeAt } from '../math/search';
import { NORMAL_95 } from '../math/statistics';
import { quantityWords } from '../session/general-rule';
import { nameFromId } from '../session/name-from-id';
import type { BandRule, Limit } from '../session/rule';
import { coursedExceedance } from './course-margin';
import { quantityOf } from './derived-quantity';
import { faultWords } from './faults-under-rule';
import { type ExceedanceHalves, exceedanceHalves, marginHalf } from './margin-interval';
import {
  type Beyond,
  type Extreme,
  instantMargin,
  type MarginLine,
  persistentMargin,
  stretchesBeyond,
} from './margins';
import { columnAt, type RoomOverTime } from './room-over-time';
import type { EstimatedQuantity, RuleContext } from './rule-context';
import {
  clipToSpans,
  hiddenByGap,
  type Places,
  placesBeside,
  ruleLine,
  stateSpans,
} from './rule-domain';
import { bareOutcome, type ExceedanceNumbers, type Margin, type RuleOutcome } from './rule-outcome';

/**
 * A rule's limit at each row of a quantity.
 *
 * @param limit constant, profile over range, or cone about the axis with its apex at the port
 * @param places range and axial distance at the rows, m
 * @returns the limit in the quantity's SI unit; NaN where its place is not known
 */
export function limitAlong(limit: Limit, places: Places): Float64Array {
  const n = places.rangeM.length;
  const value = new Float64Array(n);
  if (limit.kind === 'constant') return value.fill(limit.value);
  if (limit.kind === 'cone') {
    const tangent = Math.tan(limit.halfAngleRad);
    for (let i = 0; i < n; i++) {
      const wide = (places.axialM[i] ?? Number.NaN) * tangent;
      value[i] = Number.isNaN(wide) ? Number.NaN : Math.max(limit.floorM, wide);
    }
    return value;
  }
  for (let i = 0; i < n; i++) {
    const rangeM = places.rangeM[i] ?? Number.NaN;
    value[i] = Number.isNaN(rangeM) ? Number.NaN : profileAt(limit.points, rangeM);
  }
  return value;
}

/** Standard deviation that a limit at a row takes from the estimated place. */
function limitSdAt(limit: Limit, tangent: number, places: Places, row: number): number {
  if (limit.kind === 'constant') return 0;
  if (limit.kind === 'cone') {
    const wide = (places.axialM[row] ?? Number.NaN) * tangent;
    return wide > limit.floorM ? tangent * (places.axialSdM[row] ?? 0) : 0;
  }
  const rangeM = places.rangeM[row] ?? Number.NaN;
  return Math.abs(profileSlopeAt(limit.points, rangeM)) * (places.rangeSdM[row] ?? 0);
}

const tangentOf = (limit: Limit | null): number =>
  limit?.kind === 'cone' ? Math.tan(limit.halfAngleRad) : 0;

/**
 * The room to the nearer bound at each row, and that bound. Between rows the room is a straight line;
 * where the nearer bound changes between two rows it is that of the rows.
 */
export type BandRoom = Readonly<{
  room: Float64Array;
  roomSd: Float64Array;
  /** The nearer bound. */
  limit: Float64Array;
  /** Its standard deviation at a row. */
  limitSdAt: (row: number) => number;
  /** 1 where the upper bound is nearer, -1 where the lower is. */
  side: Int8Array;
}>;

/** Room of a quantity inside its band; NaN where a bound that is given is not known. */
export function bandRoom(
  rule: Pick<BandRule, 'low' | 'high'>,
  quantity: EstimatedQuantity,
  places: Places,
): BandRoom {
  const high = rule.high === null ? null : limitAlong(rule.high, places);
  const low = rule.low === null ? null : limitAlong(rule.low, places);
  const n = quantity.tS.length;
  const room = new Float64Array(n);
  const roomSd = new Float64Array(n);
  const only = high === null || low === null ? (high ?? low) : null;
  const limit = only ?? new Float64Array(n);
  const side = new Int8Array(n);
  const [highTangent, lowTangent] = [tangentOf(rule.high), tangentOf(rule.low)];
  const limitSd = (row: number): number => {
    const isUpper = (side[row] ?? 1) > 0;
    const near = isUpper ? rule.high : rule.low;
    return near === null ? 0 : limitSdAt(near, isUpper ? highTangent : lowTangent, places, row);
  };
  for (let row = 0; row < n; row++) {
    const value = quantity.value[row] ?? Number.NaN;
    const over = high === null ? Infinity : (high[row] ?? Number.NaN) - value;
    const under = low === null ? Infinity : value - (low[row] ?? Number.NaN);
    const isUpper = high !== null && (low === null || over <= under);
    side[row] = isUpper ? 1 : -1;
    room[row] = Number.isNaN(over + under) ? Number.NaN : Math.min(over, under);
    if (only === null) limit[row] = (isUpper ? high : low)?.[row] ?? Number.NaN;
    const own = quantity.sd[row] ?? Number.NaN;
    const ofLimit = limitSd(row);
    roomSd[row] = Math.sqrt(own * own + ofLimit * ofLimit);
  }
  return { room, roomSd, limit, limitSdAt: limitSd, side };
}

type Evaluation = RoomOverTime & Readonly<{ rule: BandRule; band: BandRoom }>;

function marginOf(evaluation: Evaluation, extreme: Extreme, persistsS: number): Margin {
  const { quantity } = evaluation;
  const what = roomWords(evaluation.rule);
  const over =
    persistsS > 0
      ? `Smallest over t of the largest ${what} over [t, t + ${persistsS} s]`
      : `Smallest ${what}`;
  return {
    value: extreme.value,
    half: marginHalf(evaluation, extreme, persistsS),
    systematic: quantity.systematic,
    fromS: extreme.atS,
    toS: extreme.atS + persistsS,
    method: `${over}, exact for straight lines between rows; the interval allows for the smallest of many noisy values, for bends that lines flatten and for the spacing of rows. ${quantity.method}`,
  };
}

/** Which bound was passed: 1 the upper, -1 the lower; that of the row at or after the instant. */
function sideAt({ quantity, band }: Evaluation, atS: number): number {
  const row = Math.min(lowerBound(quantity.tS, atS), band.side.length - 1);
  return band.side[row] ?? 1;
}

function roomWords({ low, high }: BandRule): string {
  if (low === null) return 'limit - value';
  return high === null ? 'value - limit' : 'room to the nearer bound';
}

/** Standard deviation of the nearer bound at a time, linear between rows. */
function limitSdBetween({ quantity, band }: Evaluation, atS: number): number {
  const after = lowerBound(quantity.tS, atS);
  const rows = [Math.max(0, after - 1), Math.min(after, quantity.tS.length - 1)];
  const tS = Float64Array.from(rows, (row) => quantity.tS[row] ?? Number.NaN);
  return columnAt(tS, Float64Array.from(rows, band.limitSdAt), atS);
}

function exceedanceOf(
  evaluation: Evaluation,
  beyond: Beyond,
  halves: ExceedanceHalves,
): ExceedanceNumbers {
  const { quantity, band, rule } = evaluation;
  const limitAt = columnAt(quantity.tS, band.limit, beyond.worstS);
  return {
    startS: beyond.startS,
    endS: beyond.endS,
    worstS: beyond.worstS,
    ...halves,
    ...coursedExceedance(evaluation, beyond, rule.persistsS),
    worst: limitAt - sideAt(evaluation, beyond.worstS) * beyond.worstRoom,
    systematic: quantity.systematic,
    limit: limitAt,
    limitHalf: NORMAL_95 * limitSdBetween(evaluation, beyond.worstS),
  };
}

/** The outcome where the rule applies nowhere: its condition never held, or a gap hides it. */
function neverApplied(
  rule: BandRule,
  quantity: EstimatedQuantity,
  context: RuleContext,
): RuleOutcome {
  const { when } = rule;
  if (when !== null && when.step !== null && !context.steps.has(when.step)) {
    return bareOutcome('not applicable', null, `${nameFromId(when.step)} was not flown.`);
  }
  const anyValue = quantity.value.some((value) => !Number.isNaN(value));
  if (!anyValue) {
    const words = `${quantityWords(rule.quantity)} has no values.`;
    return bareOutcome('not evaluated', 'data-missing', words);
  }
  if (hiddenByGap(when, context)) {
    return bareOutcome(
      'not evaluated',
      'data-missing',
      'The stretch to which it applies lies in a gap of the data.',
    );
  }
  return bareOutcome(
    'not applicable',
    null,
    'Never in force: its conditions did not hold, or not for long enough.',
  );
}

/** The room where the rule applies; words where the states it depends on are not recorded. */
export function bandLine(
  rule: BandRule,
  quantity: EstimatedQuantity,
  room: Float64Array,
  context: RuleContext,
): MarginLine | string {
  const places = placesBeside(quantity, context);
  const line = ruleLine(quantity, room, rule.when, places, context);
  const mode = rule.when?.mode ?? null;
  if (mode === null) return line;
  const states = context.states?.(mode.channel) ?? null;
  if (states === null) return mode.channel;
  return clipToSpans(line, stateSpans(states, mode.is));
}

function missing(name: string): RuleOutcome {
  return bareOutcome('not evaluated', 'no-such-channel', `No source has a channel for ${name}.`);
}

/** Time between the rows of a quantity, or the updates of a rate, s. */
function stepOf(quantity: EstimatedQuantity, { motion }: RuleContext): number {
  if (motion !== null && motion.tS === quantity.tS) {
    const { samples, channels, rateIsDerived, stepS } = motion;
    const rates =
      rateIsDerived || quantity.linesS === undefined ? null : samples.get(channels[1] ?? '');
    return Math.max(stepS, rates?.stepS || 0);
  }
  const steps = quantity.tS.length - 1;
  return ((quantity.tS[steps] ?? 0) - (quantity.tS[0] ?? 0)) / Math.max(1, steps);
}

/**
 * Evaluates a rule that bounds a quantity: margin, instant margin, exceedances, verdict.
 *
 * `undecided` where the margin is smaller in size than its own 95 % half-width, random and stated
 * systematic part together.
 */
export function evaluateBandRule(rule: BandRule, context: RuleContext): RuleOutcome {
  const quantity = quantityOf(rule.quantity, context);
  if (typeof quantity === 'string') return missing(quantity);
  const band = bandRoom(rule, quantity, placesBeside(quantity, context));
  const line = bandLine(rule, quantity, band.room, context);
  if (typeof line === 'string') return missing(line);
  const margin = persistentMargin(line, rule.persistsS);
  const instant = instantMargin(line);
  if (margin === null || instant === null) return neverApplied(rule, quantity, context);
  const { roomSd, side } = band;
  const stepS = stepOf(quantity, context);
  const evaluation: Evaluation = { rule, quantity, band, line, roomSd, side, stepS };
  const halvesOf = exceedanceHalves(evaluation);
  const exceedances = stretchesBeyond(line, rule.persistsS).map((beyond) =>
    exceedanceOf(evaluation, beyond, halvesOf(beyond)),
  );
  const figure = marginOf(evaluation, margin, rule.persistsS);
  const half = Math.hypot(figure.half ?? 0, figure.systematic ?? 0);
  const verdict = Math.abs(figure.value) < half ? 'undecided' : figure.value < 0 ? 'broken' : 'met';
  return {
    verdict,
    margin: figure,
    instantMargin: marginOf(evaluation, instant, 0),
    unit: rule.unit,
    reason: null,
    explanation: `${explain(verdict, rule, exceedances.length)}${faultWords(quantity.faults ?? [], line)}`,
    atS: margin.atS,
    exceedances,
    brokenOver: [],
    channels: quantity.channels,
  };
}

function explain(verdict: string, rule: BandRule, count: number): string {
  const { low, high } = rule;
  const beyond =
    low === null ? 'over the limit' : high === null ? 'under the limit' : 'outside the band';
  const lasting = rule.persistsS > 0 ? ` for ${rule.persistsS} s or more` : '';
  if (verdict === 'undecided') return 'The margin is smaller than its own uncertainty.';
  if (verdict === 'met') return `Never ${beyond}${lasting}.`;
  return `${count} ${count === 1 ? 'stretch' : 'stretches'} ${beyond}${lasting}.`;
}
