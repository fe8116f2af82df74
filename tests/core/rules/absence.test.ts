import { expect, test } from 'vitest';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { absenceCaution } from '@/lib/core/rules/absence';
import type { RuleContext } from '@/lib/core/rules/rule-context';
import type { Rule } from '@/lib/core/session/rule';
import { flownSession, TEST_ENGINE } from '../../support/flown-session';
import { AXIAL } from '../../support/spoken-session';

const FINAL = { startS: 100, endS: 160, startHalfS: 0, endHalfS: 0 };
const WHEN = { rangeM: null, axialM: null, step: 'final', mode: null };

/** A context with events of one log at the times given, s. */
function contextOf(atS: readonly number[], eventLogs?: RuleContext['eventLogs']): RuleContext {
  return {
    motion: null,
    evaluated: { fromS: 0, toS: 200 },
    steps: new Map([['final', FINAL]]),
    events: atS.map((timeS) => ({ timeS, event: 'poll', source: 'e.csv' })),
    logEntryCount: 5,
    quantity: () => null,
    ...(eventLogs === undefined ? {} : { eventLogs }),
  };
}

test('no log that names events is said', () => {
  expect(absenceCaution(WHEN, contextOf([]))).toBe('no entry of the logs names an event');
});

test('a log that ends before the rule applies, or begins after it, is said with both times', () => {
  expect(absenceCaution(WHEN, contextOf([10, 40]))).toMatch(/end at .*00:40.* from .*01:40/);
  expect(absenceCaution(WHEN, contextOf([170]))).toMatch(/begin at .*02:50.* to .*02:40/);
});

test('a log that reaches into the stretch, be it with words alone, needs no caution', () => {
  expect(absenceCaution(WHEN, contextOf([10, 120]))).toBeNull();
  expect(absenceCaution(WHEN, contextOf([10], { fromS: 5, toS: 130 }))).toBeNull();
  expect(absenceCaution(null, contextOf([10]))).toBeNull();
});

test('the verdict stays met; explanation and notes say what it rests on', () => {
  const rule: Rule = {
    kind: 'never',
    id: 'no_abort',
    statement: 'No abort.',
    within: null,
    persistsS: 0,
    event: 'abort',
  };
  const entry = { sourceS: 50, sourceEndS: null, event: null, speaker: null, line: 1 };
  const entries = [{ ...entry, text: 'Good morning.' }];
  const input = flownSession({ axial: AXIAL, durationS: 600, rules: [rule], entries });
  const { reconstruction } = reconstruct(input, TEST_ENGINE);
  const [result] = reconstruction.rules;
  expect(result?.verdict).toBe('met');
  expect(result?.explanation).toContain('no entry of the logs names an event');
  expect(reconstruction.notes).toContainEqual(
    expect.objectContaining({
      code: 'absence-not-shown',
      message: expect.stringContaining('whether it occurred is not known'),
    }),
  );
});
