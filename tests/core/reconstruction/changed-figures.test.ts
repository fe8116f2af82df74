import { expect, test } from 'vitest';
import { findChanges, underOlderKeys } from '@/lib/core/reconstruction/changed-figures';
import { listFigures } from '@/lib/core/reconstruction/list-figures';
import type { Exceedance } from '@/lib/core/reconstruction/reconstruction';
import { sampleReconstruction } from '../../support/sample-reconstruction';

const before = sampleReconstruction;
const NOTHING = { verdicts: [], figures: [], appeared: [], gone: [] };

test('nothing differs between a reconstruction and itself', () => {
  expect(findChanges(before, before)).toEqual(NOTHING);
});

test('a phase is matched by step and motion, not by its place', () => {
  const [first, ...others] = before.phases;
  if (first === undefined) throw new Error('the sample has phases');
  const extra = { ...first, step: null, motion: 'crossing' as const };
  const after = { ...before, phases: [extra, ...before.phases] };
  const place = [{ kind: 'phases', index: 0 }];
  expect(findChanges(before, after)).toEqual({ ...NOTHING, appeared: place, gone: [] });
  const without = findChanges(before, { ...before, phases: others });
  expect(without).toEqual({ ...NOTHING, appeared: [], gone: place });
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
  const after = { ...older, rules: [{ ...first, margin: moved }, ...others] };
  const [change] = findChanges(older, after).figures;
  expect(change?.key).toBe(`rules[${first.id}].margin`);
  expect(change?.difference).toBeCloseTo(0.05, 12);
  expect(change?.halfWidths).toBeCloseTo(2.5, 9);
});

/** Two exceedances of one rule and one of another, 100 s apart. */
const [sampleExceedance] = before.exceedances;
const exceedanceAt = (rule: string, startS: number, durationS = 4): Exceedance => {
  if (sampleExceedance === undefined) throw new Error('the sample has an exceedance');
  const at = (value: number) => ({ ...sampleExceedance.startS, value });
  return { ...sampleExceedance, rule, startS: at(startS), endS: at(startS + durationS) };
};

test('one more exceedance in the middle changes nothing of those after it', () => {
  const [first, second, third] = [
    exceedanceAt('corridor', 100),
    exceedanceAt('corridor', 300),
    exceedanceAt('speed', 200),
  ];
  const older = { ...before, exceedances: [first, second, third] };
  const extra = exceedanceAt('corridor', 200);
  const newer = { ...before, exceedances: [first, extra, second, third] };
  const appeared = [{ kind: 'exceedances', index: 1 }];
  expect(findChanges(older, newer)).toEqual({ ...NOTHING, appeared, gone: [] });
  expect(findChanges(newer, older)).toEqual({ ...NOTHING, appeared: [], gone: appeared });
  const renamed = underOlderKeys(listFigures(newer), older, newer);
  expect(renamed.get('exceedances[1].start_s')?.value).toBe(300);
  expect(renamed.get('exceedances[2].start_s')?.value).toBe(200);
});

test('an exceedance whose edges moved is the same; of one that broke in two the longer part is', () => {
  const older = { ...before, exceedances: [exceedanceAt('corridor', 100, 10)] };
  const parts = [exceedanceAt('corridor', 99, 3), exceedanceAt('corridor', 104, 7)];
  const changes = findChanges(older, { ...before, exceedances: parts });
  expect(changes.appeared).toEqual([{ kind: 'exceedances', index: 0 }]);
  const start = changes.figures.find(({ key }) => key === 'exceedances[1].start_s');
  expect(start).toMatchObject({ before: { value: 100 }, after: { value: 104 }, difference: 4 });
});

test('callouts and events are known by source and words, reworded ones by their time', () => {
  const [callout] = before.callouts;
  if (callout === undefined) throw new Error('the sample has a callout');
  const said = (text: string, timeS: number, line: number) => ({ ...callout, text, timeS, line });
  const older = { ...before, callouts: [said('one hundred', 10, 3), said('fifty', 90, 9)] };
  // Another log clock moves both by 37 s and a line at the top moves the lines.
  const moved = [said('two hundred', 2, 1), said('one hundred', 47, 4), said('fifty', 127, 10)];
  const changes = findChanges(older, { ...before, callouts: moved });
  expect(changes).toEqual({ ...NOTHING, appeared: [{ kind: 'callouts', index: 0 }], gone: [] });
  const reworded = [said('one hundred metres', 10.2, 3), said('fifty', 90, 9)];
  expect(findChanges(older, { ...before, callouts: reworded }).appeared).toEqual([]);
  const entry = (event: string, timeS: number) => {
    return { timeS, endS: null, source: 'events.csv', line: 1, event, text: null, speaker: null };
  };
  const logged = { ...before, events: [entry('go', 5), entry('contact', 90)] };
  const more = { ...before, events: [entry('go', 5), entry('lamp', 50), entry('contact', 90)] };
  const keys = new Map([['events[2].after_contact_s', callout.said]]);
  expect([...underOlderKeys(keys, logged, more).keys()]).toEqual(['events[1].after_contact_s']);
});

test('a rule that is judged otherwise is named, one that is new too', () => {
  const [first, ...others] = before.rules;
  if (first === undefined) throw new Error('the sample has rules');
  const verdict = first.verdict === 'met' ? 'broken' : 'met';
  const added = { ...first, id: 'new-rule' };
  const after = { ...before, rules: [{ ...first, verdict }, added, ...others] as const };
  expect(findChanges(before, after).verdicts).toEqual([
    { rule: first.id, before: first.verdict, after: verdict },
    { rule: 'new-rule', before: null, after: first.verdict },
  ]);
});
