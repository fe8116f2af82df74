/** Rules about events and durations: order, never, duration. */
import { nameFromId } from '../session/name-from-id';
import type { DurationRule, NeverRule, OrderRule } from '../session/rule';
import { sessionTimeText } from '../time/session-time-text';
import { insideWithin, type RuleContext, type RuleEvent } from './rule-context';
import { bareOutcome, type Margin, type RuleOutcome } from './rule-outcome';

function seconds(value: number): string {
  return `${value.toFixed(1)} s`;
}

/** The moment a rule looks for: an event's first occurrence, or the edge of a step. */
type Moment = Readonly<{ atS: number; halfS: number | null }>;

function firstEvent(name: string, events: readonly RuleEvent[]): Moment | null {
  const found = events.find((entry) => entry.event === name);
  return found === undefined ? null : { atS: found.timeS, halfS: null };
}

function marginInSeconds(value: number, half: number | null, method: string): Margin {
  return { value, half, systematic: null, fromS: null, toS: null, method };
}

/** The step of a `within` was not flown: the rule does not apply. */
function withinNeverOccurred(
  within: { step: string | null } | null,
  context: RuleContext,
): RuleOutcome | null {
  if (within === null || within.step === null || context.steps.has(within.step)) return null;
  return bareOutcome('not applicable', null, `${nameFromId(within.step)} was not flown.`);
}

/**
 * The first occurrence of an event comes before the first of another, or before a step's edge.
 *
 * @returns margin = then - first, s; `broken` below 0. With `within`, only occurrences inside count
 */
export function evaluateOrderRule(rule: OrderRule, context: RuleContext): RuleOutcome {
  const outside = withinNeverOccurred(rule.within, context);
  if (outside !== null) return outside;
  const { then } = rule;
  if (then.kind === 'step-edge' && !context.steps.has(then.step)) {
    return bareOutcome(
      'not evaluated',
      'step-not-flown',
      `No motion was matched to ${nameFromId(then.step)}.`,
    );
  }
  if (context.logEntryCount === 0) {
    return bareOutcome('not evaluated', 'no-event-log', 'No log has any entry.');
  }
  const events =
    rule.within === null
      ? context.events
      : context.events.filter(
          (entry) => insideWithin(rule.within, entry.timeS, context) === 'inside',
        );
  const first = firstEvent(rule.firstEvent, events);
  if (first === null) {
    return bareOutcome(
      'not evaluated',
      'no-such-event',
      `No log has the event ${rule.firstEvent}.`,
    );
  }
  let second: Moment | null;
  let name: string;
  if (then.kind === 'event') {
    second = firstEvent(then.event, events);
    name = then.event;
  } else {
    const step = context.steps.get(then.step);
    name = `${then.edge} of ${nameFromId(then.step)}`;
    second =
      step === undefined
        ? null
        : then.edge === 'start'
          ? { atS: step.startS, halfS: step.startHalfS }
          : { atS: step.endS, halfS: step.endHalfS };
  }
  if (second === null) {
    return bareOutcome('not evaluated', 'no-such-event', `No log has the event ${name}.`);
  }
  const value = second.atS - first.atS;
  const verdict = value < 0 ? 'broken' : 'met';
  const margin = marginInSeconds(
    value,
    second.halfS,
    `Time of ${name} minus time of the first ${rule.firstEvent}, both on session time.`,
  );
  return {
    ...bareOutcome(
      verdict,
      null,
      `${rule.firstEvent} came ${seconds(Math.abs(value))} ${value < 0 ? 'after' : 'before'} ${name}.`,
    ),
    margin: {
      ...margin,
      fromS: Math.min(first.atS, second.atS),
      toS: Math.max(first.atS, second.atS),
    },
    unit: 's',
    atS: first.atS,
  };
}

/**
 * The event does not occur inside `within`. Absence counts as met only where some log has entries,
 * and `within` did occur; where none of them names an event, the explanation says so.
 */
export function evaluateNeverRule(rule: NeverRule, context: RuleContext): RuleOutcome {
  const outside = withinNeverOccurred(rule.within, context);
  if (outside !== null) return outside;
  const { within } = rule;
  const placed = within !== null && (within.rangeM !== null || within.axialM !== null);
  if (placed && context.motion === null) {
    return bareOutcome('not evaluated', 'no-such-channel', 'No source gives the range.');
  }
  if (placed && !occurred(rule, context)) {
    return bareOutcome('not applicable', null, 'Its condition never held.');
  }
  if (context.logEntryCount === 0) {
    return bareOutcome('not evaluated', 'no-event-log', 'No log has any entry.');
  }
  const named = context.events.filter((entry) => entry.event === rule.event);
  const seen = named.find((entry) => insideWithin(within, entry.timeS, context) === 'inside');
  if (seen !== undefined) {
    return {
      ...bareOutcome(
        'broken',
        null,
        `${rule.event} was logged at ${sessionTimeText(seen.timeS, 1)}.`,
      ),
      atS: seen.timeS,
      channels: [seen.source],
    };
  }
  const hidden = named.find((entry) => insideWithin(within, entry.timeS, context) === 'unknown');
  if (hidden !== undefined) {
    const explanation = `${rule.event} was logged at ${sessionTimeText(hidden.timeS, 1)}, inside a gap of the telemetry.`;
    return { ...bareOutcome('not evaluated', 'data-missing', explanation), atS: hidden.timeS };
  }
  const unnamed = context.events.length === 0 ? '; no entry of the logs names an event' : '';
  return bareOutcome(
    'met',
    null,
    `${rule.event} was not logged${within === null ? '' : ' where the rule applies'}${unnamed}.`,
  );
}

/** True when `within` held at some row. */
function occurred(rule: NeverRule, context: RuleContext): boolean {
  const { motion } = context;
  if (motion === null) return false;
  const { within } = rule;
  for (let row = 0; row < motion.tS.length; row++) {
    const range = motion.rangeM[row] ?? Number.NaN;
    const axial = motion.axialM[row] ?? Number.NaN;
    const atS = motion.tS[row] ?? Number.NaN;
    if (within !== null && within.rangeM !== null) {
      if (!(range >= within.rangeM[0] && range <= within.rangeM[1])) continue;
    }
    if (within !== null && within.axialM !== null) {
      if (!(axial >= within.axialM[0] && axial <= within.axialM[1])) continue;
    }
    if (insideWithin(within, atS, context) === 'inside') return true;
  }
  return false;
}

/**
 * A step lasts no longer and no shorter than its bounds.
 *
 * @returns margin to the nearest bound, s; `broken` below 0
 */
export function evaluateDurationRule(rule: DurationRule, context: RuleContext): RuleOutcome {
  const step = context.steps.get(rule.step);
  if (step === undefined) {
    return bareOutcome(
      'not evaluated',
      'step-not-flown',
      `No motion was matched to ${nameFromId(rule.step)}.`,
    );
  }
  const durationS = step.endS - step.startS;
  const over = rule.atMostS === null ? Number.POSITIVE_INFINITY : rule.atMostS - durationS;
  const under = rule.atLeastS === null ? Number.POSITIVE_INFINITY : durationS - rule.atLeastS;
  const value = Math.min(over, under);
  const half = Math.hypot(step.startHalfS, step.endHalfS);
  const bound = over <= under ? `at most ${rule.atMostS} s` : `at least ${rule.atLeastS} s`;
  return {
    ...bareOutcome(
      value < 0 ? 'broken' : 'met',
      null,
      `${nameFromId(rule.step)} lasted ${seconds(durationS)}, ${bound} allowed.`,
    ),
    margin: {
      ...marginInSeconds(value, half, "Distance of the step's duration to the nearest bound."),
      fromS: step.startS,
      toS: step.endS,
    },
    unit: 's',
    atS: step.endS,
  };
}
