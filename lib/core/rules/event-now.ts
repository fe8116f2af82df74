/** Where a rule about events or durations stands at an instant, from what had been logged by then. */
import { nameFromId } from '../session/name-from-id';
import type { DurationRule, NeverRule, OrderRule } from '../session/rule';
import { sessionTimeText } from '../time/session-time-text';
import { evaluateNeverRule } from './event-rules';
import { insideWithin, type RuleContext } from './rule-context';
import { isUnderWay } from './rule-now';

/** `open`: nothing has happened yet that decides it; `held`: what it asks for was there, or nothing against it. */
export type EventStanding = 'open' | 'held' | 'broken' | 'not known';

export type EventNow = Readonly<{
  standing: EventStanding;
  words: string;
  /** Elapsed time or time between, s; `null` where nothing is measured. */
  valueS: number | null;
  /** The bound that is nearer, s. */
  limitS: number | null;
  /** Room to it, s. */
  roomS: number | null;
  halfS: number | null;
}>;

function bare(standing: EventStanding, words: string): EventNow {
  return { standing, words, valueS: null, limitS: null, roomS: null, halfS: null };
}

const at = (timeS: number): string => sessionTimeText(timeS, 1);

type Seen = Readonly<{ atS: number; halfS: number | null }>;

function secondMoment({ then }: OrderRule, context: RuleContext): Seen | null {
  if (then.kind === 'event') {
    const found = context.events.find(({ event }) => event === then.event);
    return found === undefined ? null : { atS: found.timeS, halfS: null };
  }
  const step = context.steps.get(then.step);
  if (step === undefined) return null;
  if (then.edge === 'start') return { atS: step.startS, halfS: step.startHalfS };
  // A step that is under way has not ended yet: its end is only where the data end.
  return isUnderWay(then.step, context) ? null : { atS: step.endS, halfS: step.endHalfS };
}

/** An order rule: which of the two had been seen by then. */
export function orderNow(rule: OrderRule, context: RuleContext): EventNow {
  if (context.logEntryCount === 0) return bare('not known', 'No log had an entry by then.');
  const first = context.events.find(({ event }) => event === rule.firstEvent);
  const second = secondMoment(rule, context);
  const { then } = rule;
  const name = then.kind === 'event' ? then.event : `the ${then.edge} of ${nameFromId(then.step)}`;
  if (first === undefined && second === null) {
    return bare('open', `Neither ${rule.firstEvent} nor ${name} had been seen.`);
  }
  if (first === undefined) {
    return bare(
      'broken',
      `${name} was at ${at(second?.atS ?? Number.NaN)}; ${rule.firstEvent} had not been logged.`,
    );
  }
  if (second === null) {
    return bare('held', `${rule.firstEvent} was logged at ${at(first.timeS)}, before ${name}.`);
  }
  const roomS = second.atS - first.timeS;
  return {
    standing: roomS < 0 ? 'broken' : 'held',
    words: `${rule.firstEvent} at ${at(first.timeS)}, ${name} at ${at(second.atS)}.`,
    valueS: roomS,
    limitS: 0,
    roomS,
    halfS: second.halfS,
  };
}

/** A rule that an event does not occur: whether it had by then. */
export function neverNow(rule: NeverRule, context: RuleContext): EventNow {
  if (context.logEntryCount === 0) return bare('not known', 'No log had an entry by then.');
  const seen = context.events.find(
    ({ event, timeS }) =>
      event === rule.event && insideWithin(rule.within, timeS, context) === 'inside',
  );
  if (seen !== undefined) return bare('broken', `${rule.event} was logged at ${at(seen.timeS)}.`);
  if (evaluateNeverRule(rule, context).verdict === 'not applicable') {
    return bare('open', 'The vehicle had not come to where it applies.');
  }
  return bare('held', `${rule.event} had not been logged where the rule applies.`);
}

/** A duration rule: how long the step had lasted by then, against the bound that is ahead. */
export function durationNow(rule: DurationRule, context: RuleContext, atS: number): EventNow {
  const step = context.steps.get(rule.step);
  const name = nameFromId(rule.step);
  if (step === undefined) return bare('open', `${name} had not started.`);
  const runs = isUnderWay(rule.step, context);
  const valueS = (runs ? atS : step.endS) - step.startS;
  const half = Math.hypot(step.startHalfS, runs ? 0 : step.endHalfS);
  const most =
    rule.atMostS === null ? null : { limitS: rule.atMostS, roomS: rule.atMostS - valueS };
  const least =
    rule.atLeastS === null ? null : { limitS: rule.atLeastS, roomS: valueS - rule.atLeastS };
  // While the step runs it can still become long enough, so only the upper bound can be broken.
  const bound =
    runs || least === null || (most !== null && most.roomS < least.roomS) ? (most ?? least) : least;
  const isBroken = bound !== null && bound.roomS < 0 && !(runs && bound === least);
  const open = runs && !isBroken;
  return {
    standing: isBroken ? 'broken' : open ? 'open' : 'held',
    words: runs
      ? `${name} had been under way since ${at(step.startS)}.`
      : `${name} had ended at ${at(step.endS)}.`,
    valueS,
    limitS: bound?.limitS ?? null,
    roomS: bound?.roomS ?? null,
    halfS: half,
  };
}
