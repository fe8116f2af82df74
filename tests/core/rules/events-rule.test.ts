import { describe, expect, test } from 'vitest';
import { evaluateRule } from '@/lib/core/rules/rule-kinds';
import { generalRule } from '@/lib/core/session/general-rule';
import { readRulesFile } from '@/lib/core/session/read-rules-file';
import type { Rule } from '@/lib/core/session/rule';
import { motionAlongAxis } from '../../support/motion-along-axis';
import { contextOf } from '../../support/rule-signal';

/** Reads one rule written as YAML keys behind its id and statement. */
function read(keys: string): Rule {
  const text = `rules:\n  - { id: r, statement: s, ${keys} }\n`;
  const { value, issues } = readRulesFile(text, 'rules.yaml');
  expect(issues).toEqual([]);
  const [rule] = value ?? [];
  if (rule === undefined) throw new Error('no rule');
  return rule;
}

const span = { startS: 100, endS: 160, startHalfS: 0.3, endHalfS: 0.4 };
const context = contextOf({
  events: [
    [10, 'poll'],
    [15, 'answer'],
    [20, 'answer'],
    [90, 'go'],
    [120, 'command'],
  ].map(([timeS, event]) => ({ timeS: Number(timeS), event: String(event), source: 'e.csv' })),
  logEntryCount: 5,
  steps: new Map([['final', span]]),
  states: () => ({
    tS: Float64Array.from([0, 50, 110, 130]),
    values: Float64Array.from([1, 2, 5, 5]),
    channel: 'mode',
  }),
});
const outcome = (keys: string) => evaluateRule(read(keys), context);

test.each([
  ['order: { first: { event: go }, then: { step: final, edge: start } }'],
  ['order: { first: { event: go }, then: { event: poll } }'],
  ['order: { first: { event: nothing }, then: { event: poll } }'],
  ['never: { event: command }'],
  ['never: { event: nothing }'],
  ['duration: { step: final, at_most_s: 50, at_least_s: 10 }'],
  ['duration: { step: other, at_most_s: 50 }'],
])('%s comes out as the general shape it maps onto', (keys) => {
  const plain = read(keys);
  const general = generalRule(plain);
  expect(general.kind).toBe('events');
  expect(evaluateRule(general, context)).toEqual(evaluateRule(plain, context));
});

test.each([
  // From 90 s to 100 s are 10 s: 5 s to spare of 15, 5 s too late for 5.
  ['within_s: 15', 'met', 5],
  ['within_s: 5', 'broken', -5],
  ['at_least_s: 8, within_s: 30', 'met', 2],
  ['at_least_s: 12', 'broken', -2],
] as const)('go, then the final step, %s: %s with %d s', (bounds, verdict, margin) => {
  const keys = `events: { first: { event: go }, then: { step: final, edge: start }, ${bounds} }`;
  const found = outcome(keys);
  expect(found.verdict).toBe(verdict);
  expect(found.margin?.value).toBeCloseTo(margin, 12);
  expect(found.margin?.half).toBe(0.3);
});

test.each([
  ['count: { event: answer }, at_least: 2', 'met', 0],
  ['count: { event: answer }, at_least: 4', 'broken', -2],
  ['count: { event: answer }, at_least: 1, at_most: 4', 'met', 1],
  ['count: { event: answer }, at_most: 1', 'broken', -1],
] as const)('%s is %s with %d to spare', (ask, verdict, margin) => {
  expect(outcome(`events: { ${ask} }`)).toMatchObject({ verdict, margin: { value: margin } });
});

test('the entry that is one too many is where a count was broken', () => {
  expect(outcome('events: { count: { event: answer }, at_most: 1 }').atS).toBe(20);
});

// By hand: go at 90 s, the final step from 100 s to 160 s, answers at 15 s and 20 s, poll at 10 s.
test.each([
  ['first: { event: go }, then: { step: final, edge: start }, within_s: 5', [[95, 100]]],
  ['first: { event: go }, then: { step: final, edge: start }, at_least_s: 12', [[100, 102]]],
  ['first: { event: go }, then: { event: poll }', [[10, 90]]],
  ['first: { event: go }, then: { step: final, edge: start }, within_s: 15', []],
  [
    'never: { event: answer }',
    [
      [15, 15],
      [20, 20],
    ],
  ],
  ['count: { event: answer }, at_most: 1', [[20, 20]]],
] as const)('%s is broken over %j', (ask, stretches) => {
  const { brokenOver } = outcome(`events: { ${ask} }`);
  expect(brokenOver.map(({ fromS, toS }) => [fromS, toS])).toEqual(stretches);
});

test('too few entries break a rule over the whole of the step in which they were asked for', () => {
  const found = outcome(
    'events: { count: { event: command }, at_least: 2 }, when: { step: final }',
  );
  expect(found).toMatchObject({ verdict: 'broken', brokenOver: [{ fromS: 100, toS: 160 }] });
});

test('a state narrows where an event counts: at its last row, not between two states', () => {
  const never = (is: string) =>
    outcome(`events: { never: { event: command } }, when: { mode: { is: ${is} } }`);
  expect(never('[5]').verdict).toBe('broken');
  expect(never('[2]').verdict).toBe('met');
  const none = contextOf({ ...context, states: () => null });
  const rule = read('events: { never: { event: command } }, when: { mode: { is: [5] } }');
  expect(evaluateRule(rule, none)).toMatchObject({ reason: 'no-such-channel' });
});

/** By hand: from 100 m at 1 m/s, a row a second but for a gap from 40 s to 60 s, in which 50 m are passed. */
describe('an event where the range is not known', () => {
  const rows = [...Array.from({ length: 41 }, (_, i) => i), 60, 61, 62];
  const motion = {
    ...motionAlongAxis({ tS: rows, axialM: (atS) => 100 - atS, closingMps: () => 1 }),
    stretches: [
      { from: 0, to: 41 },
      { from: 41, to: 44 },
    ],
  };
  const withEvents = (...timesS: readonly number[]) =>
    contextOf({
      motion,
      events: timesS.map((timeS) => ({ timeS, event: 'abort', source: 'e.csv' })),
      logEntryCount: 5,
    });
  const never = (rangeM: string) =>
    read(`events: { never: { event: abort } }, when: { range_m: ${rangeM} }`);

  test('is not known where the condition holds in the gap alone', () => {
    expect(evaluateRule(never('[48, 52]'), withEvents(50))).toMatchObject({
      verdict: 'not evaluated',
      reason: 'data-missing',
    });
    // The range passed it all the same: without an entry it was kept.
    expect(evaluateRule(never('[48, 52]'), withEvents(10)).verdict).toBe('met');
    expect(evaluateRule(never('[20, 30]'), withEvents(50)).verdict).toBe('not applicable');
  });

  test('counts where the condition holds between two rows alone', () => {
    expect(evaluateRule(never('[90.2, 90.8]'), withEvents(9.5)).verdict).toBe('broken');
  });

  test('leaves a count open that some of its entries would keep, though none and all break it', () => {
    const rule = read(
      'events: { count: { event: abort }, at_least: 2, at_most: 3 }, when: { range_m: [48, 52] }',
    );
    expect(evaluateRule(rule, withEvents(48, 49, 50, 51)).verdict).toBe('not evaluated');
    expect(evaluateRule(rule, withEvents(50)).verdict).toBe('broken');
  });
});

test('a band is read in its units: of a rate per second, of a sum in those of its parts', () => {
  const rule = read(
    'quantity: { rate_of: tank_pressure }, between: [{ constant: -2, unit: kPa/s }, null], persists_s: 3',
  );
  expect(rule).toMatchObject({
    kind: 'band',
    quantity: { kind: 'rate', of: 'tank_pressure' },
    low: { kind: 'constant', value: -2000 },
    high: null,
    unit: 'Pa/s',
    persistsS: 3,
  });
  const sum = read(
    'quantity: { vector_sum: [body_rate.pitch, body_rate.yaw] }, between: [null, { by: range, points: [[100, 1], [0, 0.2]], unit: deg/s }], when: { range_m: [0, 100] }',
  );
  expect(sum).toMatchObject({
    when: { rangeM: [0, 100], mode: null },
    high: {
      kind: 'by-range',
      points: [
        [0, (0.2 * Math.PI) / 180],
        [100, Math.PI / 180],
      ],
    },
    unit: 'deg/s',
  });
});

test('each fault of a general rule is told once, with its line', () => {
  const text = `rules:
  - { id: a, statement: s, quantity: range, between: [null, null] }
  - { id: b, statement: s, quantity: range, between: [{ constant: 5, unit: m }, { constant: 2, unit: m }] }
  - { id: c, statement: s, quantity: { rate_of: range }, between: [null, { constant: 1, unit: kg }] }
  - { id: d, statement: s, events: { count: { event: e } } }
  - { id: e, statement: s, events: { first: { event: x }, then: { event: y }, at_least_s: 9, within_s: 3 } }
`;
  const { value, issues } = readRulesFile(text, 'rules.yaml');
  expect(value).toBeNull();
  expect(issues.map(({ line, keyPath, code }) => [line, keyPath, code])).toEqual([
    [2, 'rules[0].between', 'key-missing'],
    [3, 'rules[1].between', 'bounds-reversed'],
    [4, 'rules[2].between[1].unit', 'unit-wrong'],
    [5, 'rules[3].events', 'key-missing'],
    [6, 'rules[4].events', 'bounds-reversed'],
  ]);
});
