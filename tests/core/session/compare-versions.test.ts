/** What one version says otherwise than another: by rule or step and field, as written. */
import { expect, test } from 'vitest';
import { compareVersions } from '@/lib/core/session/compare-versions';

const rule = (id: string, limit: number, more = ''): string =>
  `  - { id: ${id}, statement: ${id}, quantity: range, limit: { constant: ${limit}, unit: m }${more} }\n`;
const file = (...rules: readonly string[]): string => `rules:\n${rules.join('')}`;

test('a rule is added, removed, altered by field, or moved; its order of keys is nothing', () => {
  const before = file(rule('a', 1), rule('b', 2), rule('c', 3), rule('d', 4));
  const after = file(rule('d', 4), rule('a', 1), rule('b', 2.5, ', persists_s: 2'), rule('e', 5));
  const { head, items, sameCount } = compareVersions('rules', before, after);
  expect(head).toEqual([]);
  expect(items.map(({ id, change }) => [id, change])).toEqual([
    ['d', 'moved'],
    ['b', 'altered'],
    ['e', 'added'],
    ['c', 'removed'],
  ]);
  expect(items[1]?.fields).toEqual([
    { key: 'limit.constant', before: 2, after: 2.5 },
    { key: 'persists_s', before: undefined, after: 2 },
  ]);
  expect(sameCount).toBe(1);
  const turned = before.replace('id: a, statement: a', 'statement: a, id: a');
  expect(compareVersions('rules', before, turned).items).toEqual([]);
});

test('a plan is compared by its own fields and by step; a profile is one value', () => {
  const plan = (rate: number, point: number): string => `plan:
  title: T
  hold_rate_mps: ${rate}
  hold_dwell_s: 10
  steps:
    - { id: in, to_m: 0, planned_s: 5, closing_rate_mps: [[0, ${point}], [9, 0.3]], tolerance_mps: 0 }
`;
  const { head, items } = compareVersions('plan', plan(0.02, 0.1), plan(0.03, 0.2));
  expect(head).toEqual([{ key: 'plan.hold_rate_mps', before: 0.02, after: 0.03 }]);
  const key = 'closing_rate_mps';
  const [before, after] = [0.1, 0.2].map((point) => [
    [0, point],
    [9, 0.3],
  ]);
  expect(items[0]?.fields).toEqual([{ key, before, after }]);
});

/** Brute force: the fewest rules that must move are all that are not in a longest run in order. */
test('no more rules are said to have moved than must have', () => {
  const ids = ['a', 'b', 'c', 'd', 'e'];
  const orders = [
    ['e', 'a', 'b', 'c', 'd'],
    ['b', 'a', 'd', 'c', 'e'],
    ['e', 'd', 'c', 'b', 'a'],
    ['c', 'd', 'e', 'a', 'b'],
  ];
  const places = (order: readonly string[]) => order.map((id) => ids.indexOf(id));
  const longest = (order: readonly number[]): number => {
    let best = 0;
    for (let mask = 0; mask < 2 ** order.length; mask += 1) {
      const some = order.filter((_place, at) => (mask >> at) % 2 === 1);
      if (some.every((place, at) => at === 0 || place > (some[at - 1] ?? 0)))
        best = Math.max(best, some.length);
    }
    return best;
  };
  for (const order of orders) {
    const files = [ids, order].map((each) => file(...each.map((id) => rule(id, 1))));
    const { items } = compareVersions('rules', files[0] ?? '', files[1] ?? '');
    expect(items.length, order.join('')).toBe(ids.length - longest(places(order)));
    expect(items.every(({ change }) => change === 'moved')).toBe(true);
  }
});
