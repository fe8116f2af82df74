import { describe, expect, test } from 'vitest';
import type { Rule } from '@/lib/core/session/rule';
import type { LogEntry } from '@/lib/core/session/session-input';
import { expectWithin } from '../../support/expect-within';
import { flownSession } from '../../support/flown-session';
import { AS_PLANNED, entry, NEAR_RULE, NEVER_RULE, run } from '../../support/planned-session';

describe('rules that cannot be evaluated say why', () => {
  const result = (rule: Rule, entries?: readonly LogEntry[]) =>
    run(
      flownSession({
        ...AS_PLANNED,
        rules: [rule],
        ...(entries === undefined ? {} : { entries }),
      }),
    ).reconstruction.rules[0];

  test('a quantity without a channel', () => {
    const rule: Rule = { ...NEAR_RULE, quantity: 'port_pressure' };
    expect(result(rule)).toMatchObject({ verdict: 'not evaluated', reason: 'no-such-channel' });
  });

  test('an event that must not occur, without a log and with one', () => {
    expect(result(NEVER_RULE)).toMatchObject({ verdict: 'not evaluated', reason: 'no-event-log' });
    expect(result(NEVER_RULE, [entry(5, 'poll')])?.verdict).toBe('met');
    expect(result(NEVER_RULE, [entry(5, 'crew-command')])?.verdict).toBe('met');
    const late = result(NEVER_RULE, [entry(860, 'crew-command')]);
    expect(late).toMatchObject({ verdict: 'broken', atS: 860 });
  });

  test('words alone decide nothing', () => {
    const words = { ...entry(860, null), text: 'Crew command.' };
    const found = result(NEVER_RULE, [words]);
    expect(found?.verdict).toBe('met');
    expect(found?.explanation).toContain('no entry of the logs names an event');
  });

  test('an order without its event, and one the right and the wrong way round', () => {
    const order: Rule = {
      kind: 'order',
      id: 'order',
      statement: 'Cabin first.',
      firstEvent: 'cabin',
      // biome-ignore lint/suspicious/noThenProperty: the rule's own word, never awaited
      then: { kind: 'step-edge', step: 'final', edge: 'start' },
      within: null,
      persistsS: 0,
    };
    expect(result(order, [entry(5, 'poll')])).toMatchObject({ reason: 'no-such-event' });
    const met = result(order, [entry(400, 'cabin')]);
    expect(met?.verdict).toBe('met');
    expectWithin(met?.margin?.value, 492 - 400, 0.4, 'edge of the step');
    expect(result(order, [entry(500, 'cabin')])?.verdict).toBe('broken');
    // biome-ignore lint/suspicious/noThenProperty: the rule's own word, never awaited
    const unflown: Rule = { ...order, then: { kind: 'step-edge', step: 'dock', edge: 'end' } };
    expect(result(unflown, [entry(5, 'cabin')])).toMatchObject({ reason: 'step-not-flown' });
  });

  test('a duration against both bounds, and of a step that was not flown', () => {
    const duration: Rule = {
      kind: 'duration',
      id: 'length',
      statement: 'A minute at 30 m.',
      step: 'hold-30',
      atMostS: 120,
      atLeastS: 30,
      within: null,
      persistsS: 0,
    };
    expectWithin(result(duration)?.margin?.value, 64 - 30, 0.6, 'two edges');
    expect(result({ ...duration, atMostS: 50 })?.verdict).toBe('broken');
    expect(result({ ...duration, step: 'dock' })).toMatchObject({ reason: 'step-not-flown' });
  });

  test('a rule whose place was never reached does not apply', () => {
    const rule: Rule = { ...NEAR_RULE, within: { rangeM: [300, 400], axialM: null, step: null } };
    expect(result(rule)?.verdict).toBe('not applicable');
    const step: Rule = { ...NEAR_RULE, within: { rangeM: null, axialM: null, step: 'dock' } };
    expect(result(step)?.verdict).toBe('not applicable');
  });

  test('a margin smaller than its own uncertainty is undecided', () => {
    const rule: Rule = { ...NEAR_RULE, limit: { kind: 'constant', value: 0.2015 } };
    const found = result(rule);
    expect(found?.verdict).toBe('undecided');
    expect(Math.abs(found?.margin?.value ?? 1)).toBeLessThan(0.004);
  });

  test('a lower bound counts the other way round', () => {
    const within = { rangeM: [40, 90] as const, axialM: null, step: null };
    const rule: Rule = {
      ...NEAR_RULE,
      sense: 'at-least',
      limit: { kind: 'constant', value: 0.15 },
      within,
    };
    const found = result(rule);
    expect(found?.verdict).toBe('met');
    expectWithin(found?.margin?.value, 0.05, 0.003, 'noise of the smallest of many');
  });
});
