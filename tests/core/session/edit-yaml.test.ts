/** Edits of a file's text: the rest of it stays, and its content is what the edit says. */
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { editYaml, type YamlEdit } from '@/lib/core/session/edit-yaml';
import { seededRandom } from '../../support/seeded-random';

const TEXT = `# Rules of the arrival
rules:
  # the corridor
  - id: corridor # from the handbook
    statement: Stays inside.
    quantity: lateral_offset
    limit: { cone: { half_angle_deg: 3, floor_m: 0.25 } }
  - { id: rate, statement: "Slow: enough", quantity: closing_rate, limit: { by: range, points_m_mps: [[0, 0.1], [30, 0.3]] } }
`;

test('a value in place of a value changes its own letters alone', () => {
  const limit = ['rules', 0, 'limit', 'cone', 'half_angle_deg'];
  expect(editYaml(TEXT, { op: 'set', path: limit, value: 2.5 })).toBe(
    TEXT.replace('half_angle_deg: 3', 'half_angle_deg: 2.5'),
  );
  const id = editYaml(TEXT, { op: 'set', path: ['rules', 0, 'id'], value: 'approach cone' });
  expect(id).toBe(TEXT.replace('id: corridor', 'id: approach cone'));
  const statement = { op: 'set', path: ['rules', 1, 'statement'], value: 'No: never {x}' } as const;
  expect(editYaml(TEXT, statement)).toBe(TEXT.replace('Slow: enough', 'No: never {x}'));
});

test('a moved rule takes its comments along, and a removed one leaves the other’s', () => {
  const moved = editYaml(TEXT, { op: 'move', path: ['rules'], from: 0, to: 1 }) ?? '';
  expect(parse(moved).rules.map(({ id }: { id: string }) => id)).toEqual(['rate', 'corridor']);
  expect(moved).toMatch(/# the corridor\n\s+- id: corridor # from the handbook/);
  const removed = editYaml(TEXT, { op: 'remove', path: ['rules', 1] }) ?? '';
  expect(removed).toContain('# Rules of the arrival');
  expect(parse(removed).rules).toHaveLength(1);
});

test('text that is no YAML, and a place behind an alias, are left alone', () => {
  expect(editYaml('rules: [', { op: 'remove', path: ['rules'] })).toBeNull();
  const aliased = 'a: &x { b: 1 }\nc: *x\n';
  expect(editYaml(aliased, { op: 'set', path: ['c', 'b'], value: 2 })).toBeNull();
});

test('a list that was empty takes its first item in lines of its own', () => {
  const value = { id: 'a', statement: '' };
  const first = editYaml('rules: []\n', { op: 'insert', path: ['rules'], index: 0, value });
  expect(first).toBe('rules:\n  - id: a\n    statement: ""\n');
});

/** The same edit on plain data, as the yardstick. */
function onData(data: unknown, edit: YamlEdit): unknown {
  const copy = structuredClone(data);
  const parent = edit.path
    .slice(0, edit.op === 'set' || edit.op === 'remove' ? -1 : undefined)
    .reduce((value: unknown, part) => Reflect.get(Object(value), part), copy);
  const last = edit.path.at(-1) ?? '';
  if (edit.op === 'set') Reflect.set(Object(parent), last, edit.value);
  else if (edit.op === 'remove' && Array.isArray(parent)) parent.splice(Number(last), 1);
  else if (edit.op === 'remove') Reflect.deleteProperty(Object(parent), last);
  else if (Array.isArray(parent) && edit.op === 'insert') parent.splice(edit.index, 0, edit.value);
  else if (Array.isArray(parent) && edit.op === 'move')
    parent.splice(edit.to, 0, ...parent.splice(edit.from, 1));
  return copy;
}

const VALUES = [
  0,
  -1.5,
  1e-7,
  '',
  'yes',
  '0.5',
  'a: b',
  '# no',
  'two\nlines',
  null,
  true,
  [[0, 1]],
];

test('whatever is edited, in whatever order, the content is that of the same edits on plain data', () => {
  const random = seededRandom(7);
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)] as T;
  let text = TEXT;
  let data: unknown = parse(TEXT);
  for (let turn = 0; turn < 40; turn += 1) {
    const count = (parse(text) as { rules: unknown[] }).rules.length;
    const at = Math.floor(random() * Math.max(1, count));
    const value = pick(VALUES);
    const item = { id: `r${turn}`, limit: { constant: value } };
    const edits: readonly YamlEdit[] = [
      { op: 'insert', path: ['rules'], index: at, value: item },
      { op: 'set', path: ['rules', at, 'statement'], value },
      { op: 'set', path: ['rules', at, 'limit'], value: { constant: value, unit: 'm/s' } },
      { op: 'move', path: ['rules'], from: at, to: Math.floor(random() * count) },
      { op: 'remove', path: ['rules', at] },
    ];
    const edit = count === 0 ? (edits[0] as YamlEdit) : pick(edits);
    data = onData(data, edit);
    text = editYaml(text, edit) ?? 'refused';
    expect(parse(text), JSON.stringify(edit)).toEqual(data);
  }
});
