/** The form of a draft: every field of the file is in it, wrong ones too, and each says where it stands. */
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { readRulesFile } from '@/lib/core/session/read-rules-file';
import { changedTo, doneAgain, startHistory, undone } from '@/lib/view/plans/draft-history';
import { draftView, headForm, itemForm, newItems, typedNumber } from '@/lib/view/plans/draft-view';
import { editedText } from '@/lib/view/plans/edit-draft';
import { hintWords } from '@/lib/view/plans/form-words';
import type { FormNode } from '@/lib/view/plans/schema-form';

const RULES = `title: Arrival
rules:
  - id: a
    statement: Slow enough.
    quantity: closing_rate
    limit: { by: range, points_m_mps: [[0, 0.1], [30, 0.3]] }
    within: { range_m: [0, 30] }
  - id: b
    statement: Between.
    quantity: { rate_of: range }
    between: [null, { constant: 2, unit: m/s }]
    when: { mode: { is: [1, 2] } }
  - { id: c, statement: Order., events: { first: { event: go }, then: { step: final, edge: start } } }
  - { id: d, statement: Never., never: { event: abort } }
  - { id: e, statement: Short., duration: { step: final, at_most_s: 100 } }
`;

/** Key paths of all that the form shows of what is there. */
function shownPaths(node: FormNode): readonly string[] {
  if (node.control === 'absent') return [];
  if (node.control === 'group') return node.nodes.flatMap(shownPaths);
  if (node.control === 'variant') return node.inner === null ? [node.id] : shownPaths(node.inner);
  return [node.id];
}

/** Forms that a person could not tell apart, and a choice directly inside a choice. */
function unnamedForms(node: FormNode): readonly string[] {
  if (node.control === 'group') return node.nodes.flatMap(unnamedForms);
  if (node.control !== 'variant') return [];
  const unnamed = node.options.filter(({ label }) => label.startsWith('form '));
  const inner = node.inner === null ? [] : unnamedForms(node.inner);
  const nested = node.inner?.control === 'variant' ? [node.id] : [];
  return [...unnamed.map(() => node.id), ...nested, ...inner];
}

/** Key paths of the leaves of plain data; a profile, a list and a pair are one. */
function leafPaths(value: unknown, path: string): readonly string[] {
  if (
    Array.isArray(value) &&
    value.every((item) => typeof item !== 'object' || Array.isArray(item))
  )
    return [path];
  if (typeof value !== 'object' || value === null) return [path];
  const isList = Array.isArray(value);
  return Object.entries(value).flatMap(([key, inner]) =>
    leafPaths(inner, isList ? `${path}[${key}]` : `${path}.${key}`),
  );
}

test('every field of every kind of rule is in its form', () => {
  const view = draftView('rules', RULES);
  expect(view.isValid).toBe(true);
  const { rules } = parse(RULES) as Readonly<{ rules: readonly unknown[] }>;
  for (const [index, rule] of rules.entries()) {
    const shown = shownPaths(itemForm('rules', view, index));
    // The one value of `by` is part of the form that is chosen, not a field.
    const wanted = leafPaths(rule, `rules[${index}]`).filter((path) => !path.endsWith('.by'));
    expect(shown).toEqual(expect.arrayContaining([...wanted]));
    expect(unnamedForms(itemForm('rules', view, index))).toEqual([]);
  }
  expect(shownPaths(headForm('rules', view))).toEqual(['title']);
});

const ZONED = `plan:
  title: T
  hold_rate_mps: 0.02
  hold_dwell_s: 10
  steps: [{ id: h, hold_m: 30, tolerance_m: 2, planned_s: 60 }]
  zones:
    - { id: near, title: Near, within_m: 50, axial_m: [0, 80] }
    - { id: far, semi_axes_m: [400, 200, 100] }
`;

test('things of a list that have fields of their own are in the form, one is added and one taken out', () => {
  const view = draftView('plan', ZONED);
  const form = headForm('plan', view);
  const { plan } = parse(ZONED) as { plan: { zones: unknown } };
  expect(shownPaths(form)).toEqual(
    expect.arrayContaining([...leafPaths(plan.zones, 'plan.zones')]),
  );
  expect(unnamedForms(form)).toEqual([]);
  const zones = form.control === 'group' ? form.nodes.find(({ id }) => id === 'plan.zones') : null;
  if (zones?.control !== 'group') throw new Error('zones are a group');
  expect(zones.nodes.map(({ isOptional }) => isOptional)).toEqual([true, true]);
  expect(zones.nodes.map(({ label }) => label)).toEqual(['Near', 'far']);
  const value = zones.addition;
  const added = editedText(ZONED, { op: 'insert', path: zones.path, index: 2, value }) ?? '';
  expect(draftView('plan', added).issues.map(({ keyPath }) => keyPath)).toContain(
    'plan.zones[2].id',
  );
  const out = editedText(ZONED, { op: 'remove', path: zones.nodes[0]?.path ?? [] }) ?? '';
  expect(parse(out)).toMatchObject({ plan: { zones: [{ id: 'far' }] } });
});

test('a wrong value stays in its field, with what is wrong beside it', () => {
  const view = draftView('rules', RULES.replace('at_most_s: 100', 'at_most_s: soon'));
  const find = (node: FormNode): FormNode | undefined => {
    if (node.id === 'rules[4].duration.at_most_s') return node;
    const inner =
      node.control === 'group'
        ? node.nodes
        : node.control === 'variant' && node.inner
          ? [node.inner]
          : [];
    return inner.map(find).find((each) => each !== undefined);
  };
  const field = find(itemForm('rules', view, 4));
  expect(field).toMatchObject({ control: 'number', value: 'soon', unit: 's' });
  expect(field?.problem).toContain('must be a number');
  expect(view.items[4]).toMatchObject({ name: 'E', summary: 'Short.', problemCount: 1 });
  expect(view.issues[0]).toMatchObject({ keyPath: 'rules[4].duration.at_most_s', line: '15' });
});

test('a rule of any kind can be added, filled in and turned into another kind', () => {
  const view = draftView('rules', RULES);
  for (const { value } of newItems('rules', view)) {
    const text = editedText(RULES, { op: 'insert', path: ['rules'], index: 5, value }) ?? '';
    const added = draftView('rules', text);
    expect(added.items[5]).toMatchObject({ id: 'rule-6' });
    expect(added.isValid).toBe(false);
    const form = itemForm('rules', added, 5);
    if (form.control !== 'variant') throw new Error('a rule has several forms');
    const never = form.options[2]?.value;
    const filled = [
      { op: 'set', path: ['rules', 5], value: never },
      { op: 'set', path: ['rules', 5, 'statement'], value: 'No abort.' },
      { op: 'set', path: ['rules', 5, 'never', 'event'], value: 'abort' },
    ] as const;
    const end = filled.reduce<string>((before, edit) => editedText(before, edit) ?? '', text);
    expect(readRulesFile(end, 'rules.yaml').value?.[5]).toMatchObject({
      kind: 'never',
      id: 'rule-6',
      event: 'abort',
    });
  }
});

test('what is typed letter by letter is undone at once, and nothing is lost between the tabs', () => {
  let history = startHistory('a');
  for (const text of ['ab', 'abc', 'abcd']) history = changedTo(history, text, 'field');
  history = changedTo(history, 'x', null);
  expect(undone(history).text).toBe('abcd');
  expect(undone(undone(history)).text).toBe('a');
  expect(doneAgain(undone(undone(history))).text).toBe('abcd');
  expect(doneAgain(changedTo(undone(history), 'new')).text).toBe('new');
});

test('a number is read where one is typed; anything else stays as it was typed', () => {
  expect(['0.25', ' -3 ', '−3', '1e-3'].map(typedNumber)).toEqual([0.25, -3, -3, 0.001]);
  expect(['', 'soon', '0,5'].map(typedNumber)).toEqual([null, 'soon', '0,5']);
});

test('a hint leaves out the unit that stands beside the name', () => {
  const words = hintWords('Runs shorter than this join a neighbour, s. Default 5.', 's');
  expect(words).toBe('Runs shorter than this join a neighbour. Default 5.');
  expect(hintWords('Speeding up, m/s2.', 'm/s²')).toBe('Speeding up.');
  const whole = 'A larger speed across is a crossing, m/s.';
  expect(hintWords(whole, '')).toBe(whole);
});
