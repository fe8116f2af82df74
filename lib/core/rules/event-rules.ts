/** Rules about events and steps: how long from one moment to another, and how often. */
import { nameFromId } from '../session/name-from-id';
import type { EventsAsk, EventsRule, OrderTarget, When } from '../session/rule';
import { sessionTimeText } from '../time/session-time-text';
import { absenceCaution } from './absence';
import { insideWhen, isBetween, type RuleContext, type RuleEvent } from './rule-context';
import { hiddenByGap } from './rule-domain';
import { type BrokenStretch, bareOutcome, type Margin, type RuleOutcome } from './rule-outcome';

type OrderAsk = Extract<EventsAsk, { form: 'order' }>;
type CountAsk = Extract<EventsAsk, { form: 'count' }>;

function seconds(value: number): string {
  return `${value.toFixed(1)} s`;
}

/** A moment that a rule looks for: an event's first occurrence, or the edge of a step. */
type Moment = Readonly<{ atS: number; halfS: number | null }>;

/** What a moment is called in a sentence. */
export function momentName(target: OrderTarget): string {
  return target.kind === 'event' ? target.event : `${target.edge} of ${nameFromId(target.step)}`;
}

function findMoment(
  target: OrderTarget,
  events: readonly RuleEvent[],
  context: RuleContext,
): Moment | null {
  if (target.kind === 'event') {
    const found = events.find((entry) => entry.event === target.event);
    return found === undefined ? null : { atS: found.timeS, halfS: null };
  }
  const step = context.steps.get(target.step);
  if (step === undefined) return null;
  return target.edge === 'start'
    ? { atS: step.startS, halfS: step.startHalfS }
    : { atS: step.endS, halfS: step.endHalfS };
}

/** The step of a `when` was not flown: the rule does not apply. */
function whenNeverOccurred(when: When | null, context: RuleContext): RuleOutcome | null {
  if (when === null || when.step === null || context.steps.has(when.step)) return null;
  return bareOutcome('not applicable', null, `${nameFromId(when.step)} was not flown.`);
}

/** Entries that count: all, or those inside `when`. */
export function entriesInside(when: When | null, context: RuleContext): readonly RuleEvent[] {
  if (when === null) return context.events;
  return context.events.filter((entry) => insideWhen(when, entry.timeS, context) === 'inside');
}

/** True where the two moments are the ends of one step. */
export function isStepLength({ first, then }: OrderAsk): boolean {
  return (
    first.kind === 'step-edge' &&
    then.kind === 'step-edge' &&
    first.step === then.step &&
    first.edge === 'start' &&
    then.edge === 'end'
  );
}

/** The nearer of two bounds on a number, and the room to it; `null` where there is none. */
export function nearerBound(
  value: number,
  atLeast: number | null,
  atMost: number | null,
): Readonly<{ room: number; bound: number; side: 'at least' | 'at most' }> | null {
  const over = atMost === null ? Infinity : atMost - value;
  const under = atLeast === null ? Infinity : value - atLeast;
  if (atMost !== null && over <= under) return { room: over, bound: atMost, side: 'at most' };
  return atLeast === null ? null : { room: under, bound: atLeast, side: 'at least' };
}

/** From a moment to where the bound was: before it where it came too late, after it where too early. */
function roomAway(room: number, bound: ReturnType<typeof nearerBound>): number {
  return bound?.side === 'at most' ? room : -room;
}

function stretchBetween(oneS: number, otherS: number): BrokenStretch {
  return { fromS: Math.min(oneS, otherS), toS: Math.max(oneS, otherS) };
}

function missingMoment(target: OrderTarget): RuleOutcome {
  if (target.kind === 'event') {
    const words = `No log has the event ${target.event}.`;
    return bareOutcome('not evaluated', 'no-such-event', words);
  }
  const words = `No motion was matched to ${nameFromId(target.step)}.`;
  return bareOutcome('not evaluated', 'step-not-flown', words);
}

function orderWords(ask: OrderAsk, delayS: number): string {
  const { first, atLeastS, atMostS } = ask;
  const bound = nearerBound(delayS, atLeastS, atMostS);
  const asked = bound === null ? '' : `, ${bound.side} ${bound.bound} s allowed`;
  if (isStepLength(ask) && first.kind === 'step-edge') {
    return `${nameFromId(first.step)} lasted ${seconds(delayS)}${asked}.`;
  }
  const order = `${momentName(first)} came ${seconds(Math.abs(delayS))} ${delayS < 0 ? 'after' : 'before'} ${momentName(ask.then)}`;
  return atMostS === null && atLeastS === 0 ? `${order}.` : `${order}${asked}.`;
}

function orderMethod(ask: OrderAsk): string {
  if (isStepLength(ask)) return "Distance of the step's duration to the nearest bound.";
  const first = ask.first.kind === 'event' ? `the first ${ask.first.event}` : momentName(ask.first);
  const delay = `Time of ${momentName(ask.then)} minus time of ${first}, both on session time`;
  return ask.atMostS === null && ask.atLeastS === 0
    ? `${delay}.`
    : `${delay}; its distance to the nearest bound.`;
}

/**
 * The time from one moment to another lies between two bounds. Of an event the first occurrence counts,
 * with `when` the first inside it.
 *
 * @returns margin to the nearest bound, s; `broken` below 0
 */
function evaluateOrder(rule: EventsRule, ask: OrderAsk, context: RuleContext): RuleOutcome {
  const outside = whenNeverOccurred(rule.when, context);
  if (outside !== null) return outside;
  const targets = [ask.first, ask.then];
  for (const target of targets) {
    if (target.kind === 'step-edge' && !context.steps.has(target.step))
      return missingMoment(target);
  }
  if (targets.some(({ kind }) => kind === 'event') && context.logEntryCount === 0) {
    return bareOutcome('not evaluated', 'no-event-log', 'No log has any entry.');
  }
  const events = entriesInside(rule.when, context);
  const first = findMoment(ask.first, events, context);
  if (first === null) return missingMoment(ask.first);
  const then = findMoment(ask.then, events, context);
  if (then === null) return missingMoment(ask.then);
  const delayS = then.atS - first.atS;
  const bound = nearerBound(delayS, ask.atLeastS, ask.atMostS);
  const value = bound?.room ?? delayS;
  const halves = [first.halfS, then.halfS].filter((half) => half !== null);
  const margin: Margin = {
    value,
    half: halves.length === 0 ? null : Math.hypot(...halves),
    systematic: null,
    fromS: Math.min(first.atS, then.atS),
    toS: Math.max(first.atS, then.atS),
    method: orderMethod(ask),
  };
  return {
    ...bareOutcome(value < 0 ? 'broken' : 'met', null, orderWords(ask, delayS)),
    margin,
    unit: 's',
    // Too late: from when it was due until it came; too early: until when it might have.
    brokenOver: value < 0 ? [stretchBetween(then.atS, then.atS + roomAway(value, bound))] : [],
    atS: isStepLength(ask) ? then.atS : first.atS,
  };
}

/**
 * How often an event occurs inside `when` lies between two bounds. Absence counts only where some log
 * has entries and `when` did occur; where none of them names an event, the explanation says so.
 *
 * @returns no margin for "never"; else how many more or fewer would have been allowed
 */
function evaluateCount(rule: EventsRule, ask: CountAsk, context: RuleContext): RuleOutcome {
  const { when } = rule;
  const outside = whenNeverOccurred(when, context);
  if (outside !== null) return outside;
  const placed = when !== null && (when.rangeM !== null || when.axialM !== null);
  if (placed && context.motion === null) {
    return bareOutcome('not evaluated', 'no-such-channel', 'No source gives the range.');
  }
  if (when?.mode != null && (context.states?.(when.mode.channel) ?? null) === null) {
    const words = `No source has a channel for ${when.mode.channel}.`;
    return bareOutcome('not evaluated', 'no-such-channel', words);
  }
  if (placed && !occurred(ask.event, when, context)) {
    return bareOutcome('not applicable', null, 'Never in force: its conditions did not hold.');
  }
  if (context.logEntryCount === 0) {
    return bareOutcome('not evaluated', 'no-event-log', 'No log has any entry.');
  }
  return countOutcome(ask, when, context);
}

function countOutcome(ask: CountAsk, when: When | null, context: RuleContext): RuleOutcome {
  const { event, atLeast, atMost } = ask;
  const named = context.events.filter((entry) => entry.event === event);
  const placeOf = (entry: RuleEvent) => insideWhen(when, entry.timeS, context);
  const seen = named.filter((entry) => placeOf(entry) === 'inside');
  const hidden = named.filter((entry) => placeOf(entry) === 'unknown');
  const isNever = atMost === 0 && atLeast === null;
  // The entry that is one too many; else the last that counts.
  const deciding = seen[atMost ?? seen.length] ?? seen.at(-1);
  const isBroken = (count: number): boolean =>
    (atMost !== null && count > atMost) || (atLeast !== null && count < atLeast);
  const least = isBroken(seen.length);
  if (hidden.some((_, index) => isBroken(seen.length + index + 1) !== least)) {
    const explanation = `${event} was logged at ${sessionTimeText(hidden[0]?.timeS ?? 0, 1)}, inside a gap of the telemetry.`;
    const outcome = bareOutcome('not evaluated', 'data-missing', explanation);
    return { ...outcome, atS: hidden[0]?.timeS ?? null };
  }
  const bound = nearerBound(seen.length, atLeast, atMost);
  return {
    ...bareOutcome(least ? 'broken' : 'met', null, countWords(ask, seen, when, context)),
    margin:
      isNever || bound === null
        ? null
        : {
            value: bound.room,
            half: null,
            systematic: null,
            fromS: seen[0]?.timeS ?? null,
            toS: seen.at(-1)?.timeS ?? null,
            method: 'Distance of the number of entries to the nearer bound.',
          },
    unit: isNever ? null : '1',
    brokenOver: least ? brokenCount(ask, seen, when, context) : [],
    atS: deciding?.timeS ?? null,
    channels: deciding === undefined ? [] : [deciding.source],
  };
}

/** Each entry that is one too many; where there were too few, all of the time in which they might have come. */
function brokenCount(
  { atMost }: CountAsk,
  seen: readonly RuleEvent[],
  when: When | null,
  context: RuleContext,
): readonly BrokenStretch[] {
  if (atMost !== null && seen.length > atMost)
    return seen.slice(atMost).map(({ timeS }) => ({ fromS: timeS, toS: timeS }));
  const step = when?.step == null ? undefined : context.steps.get(when.step);
  if (step !== undefined) return [{ fromS: step.startS, toS: step.endS }];
  return context.evaluated === null ? [] : [context.evaluated];
}

function countWords(
  { event, atLeast, atMost }: CountAsk,
  seen: readonly RuleEvent[],
  when: When | null,
  context: RuleContext,
): string {
  if (atMost === 0 && atLeast === null) {
    const [first] = seen;
    if (first !== undefined) return `${event} was logged at ${sessionTimeText(first.timeS, 1)}.`;
    const caution = absenceCaution(when, context);
    const restsOn = caution === null ? '' : `; ${caution}`;
    return `${event} was not logged${when === null ? '' : ' where the rule applies'}${restsOn}.`;
  }
  const bound = nearerBound(seen.length, atLeast, atMost);
  const asked = bound === null ? '' : `, ${bound.side} ${bound.bound} asked for`;
  return `${event} was logged ${seen.length} ${seen.length === 1 ? 'time' : 'times'}${asked}.`;
}

/** True when `when` held at some row, at an entry of the event between rows, or in a gap that it passes through. */
function occurred(event: string, when: When, context: RuleContext): boolean {
  const isNear = context.events.some(
    (entry) => entry.event === event && insideWhen(when, entry.timeS, context) !== 'outside',
  );
  if (isNear || hiddenByGap(when, context)) return true;
  const { motion } = context;
  if (motion === null) return false;
  for (let row = 0; row < motion.tS.length; row++) {
    // Cheap conditions first: this runs over every row.
    if (!isBetween(motion.rangeM[row] ?? Number.NaN, when.rangeM)) continue;
    if (!isBetween(motion.axialM[row] ?? Number.NaN, when.axialM)) continue;
    if (insideWhen(when, motion.tS[row] ?? Number.NaN, context) === 'inside') return true;
  }
  return false;
}

/** Evaluates a rule about events and steps. */
export function evaluateEventsRule(rule: EventsRule, context: RuleContext): RuleOutcome {
  return rule.ask.form === 'order'
    ? evaluateOrder(rule, rule.ask, context)
    : evaluateCount(rule, rule.ask, context);
}
