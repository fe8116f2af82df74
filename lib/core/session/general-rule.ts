/**
 * The two general shapes of a flight rule. Every form of the rule file maps onto one of them, so that
 * there is one evaluation of each. SI and radians.
 */
import type { BandRule, EventsAsk, EventsRule, QuantityRef, Rule, When, Within } from './rule';

/** One of the two shapes. */
export type GeneralRule = BandRule | EventsRule;

function whenOf(within: Within | null): When | null {
  return within === null ? null : { ...within, mode: null };
}

/**
 * The general shape of a rule.
 *
 * An upper or lower bound is a band with one side open; an order is a delay of 0 or more; a duration is
 * the delay from a step's start to its end; never is a count of at most 0.
 */
export function generalRule(rule: Rule): GeneralRule {
  switch (rule.kind) {
    case 'band':
    case 'events':
      return rule;
    case 'quantity':
      return {
        kind: 'band',
        id: rule.id,
        statement: rule.statement,
        when: whenOf(rule.within),
        quantity: { kind: 'named', name: rule.quantity },
        low: rule.sense === 'at-least' ? rule.limit : null,
        high: rule.sense === 'at-most' ? rule.limit : null,
        persistsS: rule.persistsS,
        unit: rule.unit,
      };
    case 'order':
      return eventsOf(rule, {
        form: 'order',
        first: { kind: 'event', event: rule.firstEvent },
        // biome-ignore lint/suspicious/noThenProperty: the rule grammar's own word, never awaited
        then: rule.then,
        atLeastS: 0,
        atMostS: null,
      });
    case 'duration':
      return eventsOf(
        { ...rule, within: null },
        {
          form: 'order',
          first: { kind: 'step-edge', step: rule.step, edge: 'start' },
          // biome-ignore lint/suspicious/noThenProperty: the rule grammar's own word, never awaited
          then: { kind: 'step-edge', step: rule.step, edge: 'end' },
          atLeastS: rule.atLeastS,
          atMostS: rule.atMostS,
        },
      );
    case 'never':
      return eventsOf(rule, { form: 'count', event: rule.event, atLeast: null, atMost: 0 });
  }
}

function eventsOf(
  { id, statement, within }: Readonly<{ id: string; statement: string; within: Within | null }>,
  ask: EventsAsk,
): EventsRule {
  return { kind: 'events', id, statement, when: whenOf(within), ask };
}

/** What a quantity is called in a sentence. */
export function quantityWords(ref: QuantityRef): string {
  if (ref.kind === 'named') return ref.name;
  if (ref.kind === 'rate') return `rate of ${ref.of}`;
  return `root of the sum of squares of ${ref.of.join(', ')}`;
}
