import { expect, test } from 'vitest';
import type { RuleContext } from '@/lib/core/rules/rule-context';
import {
  evaluateRule,
  type KindedRule,
  RULE_KINDS,
  registerRuleKind,
} from '@/lib/core/rules/rule-kinds';
import { bareOutcome } from '@/lib/core/rules/rule-outcome';

/** A kind from outside the project: an event is logged at most so many times. */
type AtMostTimes = Readonly<{ id: string; kind: 'at-most-times'; event: string; times: number }>;

const isAtMostTimes = (rule: KindedRule): rule is AtMostTimes => rule.kind === 'at-most-times';

const KINDS = new Map([
  ...RULE_KINDS,
  registerRuleKind<AtMostTimes>(
    {
      kind: 'at-most-times',
      evaluate({ event, times }, { events }) {
        const count = events.filter((each) => each.event === event).length;
        return bareOutcome(count <= times ? 'met' : 'broken', null, `${event}: ${count} times.`);
      },
    },
    isAtMostTimes,
  ),
]);

const context: RuleContext = {
  motion: null,
  evaluated: null,
  steps: new Map(),
  events: [10, 20].map((timeS) => ({ timeS, event: 'retry', source: 'events.csv' })),
  logEntryCount: 2,
  quantity: () => null,
};

const rule = (times: number): AtMostTimes => ({
  id: 'retries',
  kind: 'at-most-times',
  event: 'retry',
  times,
});

test('a kind from outside is evaluated by its own entry, with the logs of the session', () => {
  expect(evaluateRule(rule(2), context, KINDS).verdict).toBe('met');
  expect(evaluateRule(rule(1), context, KINDS)).toMatchObject({
    verdict: 'broken',
    explanation: 'retry: 2 times.',
  });
});

test('beside it the kinds of the rule file go on as they did', () => {
  const never = {
    id: 'no-retry',
    kind: 'never',
    statement: 'No retry.',
    event: 'retry',
    within: null,
  };
  expect(evaluateRule(never, context, KINDS)).toEqual(evaluateRule(never, context));
  expect(evaluateRule(never, context, KINDS)).toMatchObject({
    verdict: 'broken',
    explanation: expect.stringMatching(/was logged at 00:/),
  });
});

test('a kind that nobody registered is refused, not passed over', () => {
  expect(() => evaluateRule(rule(1), context)).toThrow('no rule kind at-most-times');
});
