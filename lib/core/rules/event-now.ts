/** Where a rule about events and steps stands at an instant, from what had been logged by then. */
import { nameFromId } from '../session/name-from-id';
import type { EventsAsk, EventsRule, OrderTarget } from '../session/rule';
import { sessionTimeText } from '../time/session-time-text';
import {
  entriesInside,
  evaluateEventsRule,
  isStepLength,
  momentName,
  nearerBound,
} from './event-rules';
import type { RuleContext, RuleEvent } from './rule-context';
import { isUnderWay } from './rule-now';

/** `open`: nothing has happened yet that decides it; `held`: what it asks for was there, or nothing against it. */
export type EventStanding = 'open' | 'held' | 'broken' | 'not known';

/** Numbers are seconds, or entries where the rule counts them; `null` where nothing is measured. */
export type EventNow = Readonly<{
  standing: EventStanding;
  words: string;
  value: number | null;
  /** The bound that is nearer or ahead. */
  limit: number | null;
  room: number | null;
  half: number | null;
  unit: 's' | '1';
}>;

type OrderAsk = Extract<EventsAsk, { form: 'order' }>;
type CountAsk = Extract<EventsAsk, { form: 'count' }>;

function bare(standing: EventStanding, words: string): EventNow {
  return { standing, words, value: null, limit: null, room: null, half: null, unit: 's' };
}

const at = (timeS: number): string => sessionTimeText(timeS, 1);

type Seen = Readonly<{ atS: number; halfS: number | null }>;

function seenBy(
  target: OrderTarget,
  events: readonly RuleEvent[],
  context: RuleContext,
): Seen | null {
  if (target.kind === 'event') {
    const found = events.find(({ event }) => event === target.event);
    return found === undefined ? null : { atS: found.timeS, halfS: null };
  }
  const step = context.steps.get(target.step);
  if (step === undefined) return null;
  if (target.edge === 'start') return { atS: step.startS, halfS: step.startHalfS };
  // A step that is under way has not ended yet: its end is only where the data end.
  return isUnderWay(target.step, context) ? null : { atS: step.endS, halfS: step.endHalfS };
}

function inWords(target: OrderTarget): string {
  return target.kind === 'event' ? target.event : `the ${momentName(target)}`;
}

/** Both moments had been seen: the time between them against the bounds. */
function bothSeen(ask: OrderAsk, first: Seen, then: Seen): EventNow {
  const value = then.atS - first.atS;
  const bound = nearerBound(value, ask.atLeastS, ask.atMostS);
  const halves = [first.halfS, then.halfS].filter((half) => half !== null);
  return {
    standing: bound !== null && bound.room < 0 ? 'broken' : 'held',
    words: isStepLength(ask)
      ? `It had ended at ${at(then.atS)}.`
      : `${inWords(ask.first)} at ${at(first.atS)}, ${inWords(ask.then)} at ${at(then.atS)}.`,
    value,
    limit: bound?.bound ?? null,
    room: bound?.room ?? null,
    half: halves.length === 0 ? null : Math.hypot(...halves),
    unit: 's',
  };
}

/** Only the first had been seen: time runs, and only the upper bound can be passed yet. */
function running(ask: OrderAsk, first: Seen, atS: number): EventNow {
  const { atMostS, atLeastS } = ask;
  const value = atS - first.atS;
  const words =
    ask.first.kind === 'step-edge' && isStepLength(ask)
      ? `${nameFromId(ask.first.step)} had been under way since ${at(first.atS)}.`
      : `${inWords(ask.first)} was at ${at(first.atS)}, before ${inWords(ask.then)}.`;
  if (atMostS === null) {
    // What comes later can only be later: an order is held, a least delay is still to come.
    return bare(atLeastS === null || atLeastS <= 0 ? 'held' : 'open', words);
  }
  const room = atMostS - value;
  const standing = room < 0 ? 'broken' : 'open';
  return { standing, words, value, limit: atMostS, room, half: first.halfS, unit: 's' };
}

function orderNow(rule: EventsRule, ask: OrderAsk, context: RuleContext, atS: number): EventNow {
  const targets = [ask.first, ask.then];
  if (targets.some(({ kind }) => kind === 'event') && context.logEntryCount === 0) {
    return bare('not known', 'No log had an entry by then.');
  }
  const events = entriesInside(rule.when, context);
  const first = seenBy(ask.first, events, context);
  const then = seenBy(ask.then, events, context);
  if (first !== null && then !== null) return bothSeen(ask, first, then);
  if (first !== null) return running(ask, first, atS);
  if (then === null) {
    const words =
      ask.first.kind === 'step-edge' && isStepLength(ask)
        ? `${nameFromId(ask.first.step)} had not started.`
        : `Neither ${inWords(ask.first)} nor ${inWords(ask.then)} had been seen.`;
    return bare('open', words);
  }
  const isBroken = ask.atLeastS !== null && ask.atLeastS >= 0;
  return bare(
    isBroken ? 'broken' : 'open',
    `${inWords(ask.then)} was at ${at(then.atS)}; ${inWords(ask.first)} had not been seen.`,
  );
}

function countNow(rule: EventsRule, ask: CountAsk, context: RuleContext): EventNow {
  const { event, atLeast, atMost } = ask;
  if (context.logEntryCount === 0) return bare('not known', 'No log had an entry by then.');
  if (evaluateEventsRule(rule, context).verdict === 'not applicable') {
    return bare('open', 'The vehicle had not come to where it applies.');
  }
  const seen = entriesInside(rule.when, context).filter((entry) => entry.event === event);
  const isOver = atMost !== null && seen.length > atMost;
  if (atMost === 0 && atLeast === null) {
    return isOver
      ? bare('broken', `${event} was logged at ${at(seen[0]?.timeS ?? Number.NaN)}.`)
      : bare('held', `${event} had not been logged where the rule applies.`);
  }
  const isShort = atLeast !== null && seen.length < atLeast;
  const bound = nearerBound(seen.length, atLeast, atMost);
  return {
    standing: isOver ? 'broken' : isShort ? 'open' : 'held',
    words: `${event} had been logged ${seen.length} ${seen.length === 1 ? 'time' : 'times'}.`,
    value: seen.length,
    limit: bound?.bound ?? null,
    room: bound?.room ?? null,
    half: null,
    unit: '1',
  };
}

/**
 * An events rule at an instant.
 *
 * @param context made from what was known by then alone
 * @param atS the instant, s
 */
export function eventsNow(rule: EventsRule, context: RuleContext, atS: number): EventNow {
  return rule.ask.form === 'order'
    ? orderNow(rule, rule.ask, context, atS)
    : countNow(rule, rule.ask, context);
}
