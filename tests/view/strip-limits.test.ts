import { expect, test } from 'vitest';
import type { Rule } from '@/lib/core/session/rule';
import { MOST_KEYS, openQuestions } from '@/lib/view/charts/envelope-question';
import { stripCatalogue } from '@/lib/view/timeline-strips';
import { RATE_RULE } from '../support/rate-rule';

const column = (name: string) => ({ key: name, source: null, name, as: name, unit: 'm/s' });

function stripOf(rules: readonly Rule[], names: readonly string[]) {
  const channels = ['closing_rate', ...names].map(column);
  const [strip] = stripCatalogue(channels, rules).strips;
  if (strip === undefined) throw new Error('the session has a strip');
  return strip;
}

test('a strip draws the limits of the first few rules and says how many there are', () => {
  const ids = Array.from({ length: 50 }, (_, index) => `rate-${index}`);
  const strip = stripOf(
    ids.map((id) => ({ ...RATE_RULE, id })),
    ids.map((id) => `limit.${id}`),
  );
  const limits = strip.series.filter(({ role }) => role === 'limit');
  expect(limits.map(({ label }) => label)).toEqual(ids.slice(0, 6));
  expect(strip.limitNote).toBe('6 of 50 limits, those with the least room');
  const few = stripOf(
    ids.slice(0, 6).map((id) => ({ ...RATE_RULE, id })),
    ids.slice(0, 6).map((id) => `limit.${id}`),
  );
  expect(few.limitNote).toBeUndefined();
  expect(few.series).toHaveLength(7);
});

test('of two limits of one rule a strip draws both or neither', () => {
  const ids = ['a', 'b', 'c', 'd', 'e', 'both'];
  const rules = ids.map((id): Rule => {
    const bound = (value: number) => ({ kind: 'constant', value }) as const;
    return {
      ...{ kind: 'band', id, statement: '', unit: 'm/s', persistsS: 0, when: null },
      quantity: { kind: 'named', name: 'closing_rate' },
      low: id === 'both' ? bound(0) : null,
      high: bound(0.1),
    };
  });
  const names = [...ids.map((id) => `limit.${id}`), 'limit_low.both'];
  const labels = (few: readonly Rule[]) =>
    stripOf(few, names)
      .series.filter(({ role }) => role === 'limit')
      .map(({ label }) => label);
  expect(labels(rules)).toEqual(ids.slice(0, 5));
  expect(stripOf(rules, names).limitNote).toBe('5 of 7 limits, those with the least room');
  expect(labels(rules.slice(1))).toEqual(['b', 'c', 'd', 'e', 'max both', 'min both']);
  expect(labels(rules.slice(5))).toEqual(['upper limit', 'lower limit']);
});

test('more columns than a question may name are asked for in several', () => {
  const keys = Array.from({ length: MOST_KEYS + 1 }, (_, index) => `c${index}`);
  const session = { fromS: 0, toS: 10 };
  const asked = openQuestions({ session, window: session, keys, pixels: 800 }, [], []);
  expect(asked.map((question) => question.keys.length)).toEqual([MOST_KEYS, 1]);
  expect(asked.flatMap((question) => question.keys)).toEqual(keys);
});
