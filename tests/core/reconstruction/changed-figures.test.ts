import { expect, test } from 'vitest';
import { changedFigures, underOlderKeys } from '@/lib/core/reconstruction/changed-figures';
import { listFigures } from '@/lib/core/reconstruction/list-figures';
import { sampleReconstruction } from '../../support/sample-reconstruction';

const before = sampleReconstruction;

test('nothing differs between a reconstruction and itself', () => {
  expect(changedFigures(before, before)).toEqual([]);
});

test('a phase is matched by step and motion, not by its place', () => {
  const [first, ...others] = before.phases;
  if (first === undefined) throw new Error('the sample has phases');
  const extra = { ...first, step: null, motion: 'crossing' as const };
  const after = { ...before, phases: [extra, ...before.phases] };
  const changes = changedFigures(before, after);
  expect(new Set(changes.map(({ key }) => key.split('.')[0]))).toEqual(new Set(['phases[0]']));
  expect(changes.every((change) => change.before === null)).toBe(true);
  const without = changedFigures(before, { ...before, phases: others });
  expect(without.length).toBeGreaterThan(0);
  expect(without.every((change) => change.after === null)).toBe(true);
});

test('figures of a phase that moved in the order are found under the place it had', () => {
  const [first] = before.phases;
  if (first === undefined) throw new Error('the sample has phases');
  const extra = { ...first, step: null, motion: 'crossing' as const };
  const after = { ...before, phases: [extra, ...before.phases] };
  const renamed = underOlderKeys(listFigures(after), before, after);
  expect(renamed.get('phases[0].start_s')).toEqual(listFigures(before).get('phases[0].start_s'));
  expect(renamed.has(`phases[${before.phases.length}].start_s`)).toBe(false);
});

test('a difference is told in the half-widths of the figure before', () => {
  const [first, ...others] = before.rules.filter(({ margin }) => margin?.value != null);
  if (first?.margin?.value == null) throw new Error('the sample has a rule with a margin');
  const uncertainty = { random: 0.02, systematic: null };
  const older = {
    ...before,
    rules: [{ ...first, margin: { ...first.margin, uncertainty } }, ...others],
  };
  const moved = { ...first.margin, value: first.margin.value + 0.05 };
  const [change] = changedFigures(older, {
    ...older,
    rules: [{ ...first, margin: moved }, ...others],
  });
  expect(change?.key).toBe(`rules[${first.id}].margin`);
  expect(change?.difference).toBeCloseTo(0.05, 12);
  expect(change?.halfWidths).toBeCloseTo(2.5, 9);
});
