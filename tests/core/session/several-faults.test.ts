import { expect, test } from 'vitest';
import { formatIssue, type Issue } from '@/lib/core/result';
import { readPlanFile } from '@/lib/core/session/read-plan-file';
import { readRulesFile } from '@/lib/core/session/read-rules-file';
import { readSessionFile } from '@/lib/core/session/read-session-file';

const lines = (issues: readonly Issue[]) => issues.map(formatIssue);

test('faults of the schema do not hide the faults behind it, and each is told once', () => {
  const text = `title: Wrong in many places
kind: fligth
zero: noon
mood: good
sources:
  - file: nav.csv
    type: telemetry
    time: { column: t, code: elapsed-secs }
    channels:
      x: { as: position.x, unit: furlong }
      y: { as: position.y, units: m }
      z: { as: position.z, unit: m, scale: "2" }
  - { file: ../loop.vtt, type: events }
  - { file: nav.csv, type: telemetri, time: { column: t, code: elapsed-seconds }, channels: {} }
plan: 7
rules: rules.yaml
simulations: { files: runs/*.csv, like: other.csv }
`;
  const { value, understood, issues } = readSessionFile(text, 'session.yaml');
  expect(value).toBeNull();
  expect(issues.map((issue) => [issue.line, issue.keyPath, issue.code])).toEqual(
    expect.arrayContaining([
      [2, 'kind', 'value-unknown'],
      [3, 'zero', 'instant-not-readable'],
      [4, 'mood', 'key-unknown'],
      [8, 'sources[0].time.code', 'value-unknown'],
      [10, 'sources[0].channels.x.unit', 'unit-wrong'],
      [11, 'sources[0].channels.y.units', 'key-unknown'],
      [12, 'sources[0].channels.z.scale', 'type-wrong'],
      [13, 'sources[1].file', 'file-outside-folder'],
      [14, 'sources[2].type', 'value-unknown'],
      [14, 'sources[2].file', 'file-twice'],
      [14, 'sources[2].channels', 'channels-empty'],
      [15, 'plan', 'type-wrong'],
    ]),
  );
  expect(issues).toHaveLength(12);
  // The telemetry can still be opened: neither its code nor its units decide how lines are cut.
  expect(understood?.session.sources.map((source) => source.file)).toEqual(['nav.csv']);
  expect(understood?.session).toMatchObject({ planFile: null, rulesFile: 'rules.yaml' });
});

test('a source whose layout is at fault is only looked up', () => {
  const text = `title: T
kind: flight
zero: 2026-03-02T10:00:00Z
sources:
  - { file: a.csv, type: telemetry, time: { colum: t, code: elapsed-seconds }, channels: { x: { as: range, unit: m } } }
  - { file: b.csv, type: events, time: { column: t, code: clock } }
`;
  const { understood, issues } = readSessionFile(text, 'session.yaml');
  expect(lines(issues)).toEqual([
    'session.yaml:5 sources[0].time.colum: unknown key "colum", is "column" meant?; known here: column, columns, code, scale, from, date_order',
    expect.stringContaining('session.yaml:6 sources[1].time.code: must be one of iso8601'),
  ]);
  expect(understood).toMatchObject({ session: { sources: [] }, onlyNamed: ['a.csv', 'b.csv'] });
});

test('a unit left out of a key is one fault, not an unknown key and a missing one', () => {
  const { issues } = readPlanFile(
    'plan: { title: T, hold_rate: 0.02, hold_dwell_s: 5,\n steps: [{ id: a, hold_m: 9, tolerance_m: 1, planned: 3 }] }',
    'plan.yaml',
  );
  expect(issues.map((issue) => [issue.keyPath, issue.code])).toEqual([
    ['plan.hold_rate', 'key-unknown'],
    ['plan.steps[0].planned', 'key-unknown'],
  ]);
});

test('a key given twice is told with the other faults of the file', () => {
  const { issues } = readPlanFile(
    `plan:
  title: T
  title: U
  hold_rate_mps: fast
  hold_dwell_s: 5
  steps: [{ id: a, to_m: 0, planned_s: 1, closing_rate_mps: [[0, 1], [0, 2]], tolerance_mps: 1 }]
`,
    'plan.yaml',
  );
  expect(issues.map((issue) => issue.code)).toEqual([
    'key-twice',
    'type-wrong',
    'profile-not-ascending',
  ]);
});

test('rules are held against the steps of a plan that has faults elsewhere', () => {
  const plan = readPlanFile(
    'plan: { title: T, hold_rate_mps: -1, hold_dwell_s: 5, steps: [{ id: a, hold_m: 9, tolerance_m: 1, planned_s: 3 }] }',
    'plan.yaml',
  );
  expect(plan.value).toBeNull();
  const { issues } = readRulesFile(
    `rules:
  - { id: one, statement: S, duration: { step: b, at_most: 5 } }
  - { id: two, statement: S, quantity: range, limt: { constant: 1, unit: m } }
  - { id: three, statement: 5, never: { event: e }, within: { range_m: [9, 1] } }
`,
    'rules.yaml',
    plan.understood,
  );
  expect(issues.map((issue) => [issue.line, issue.keyPath, issue.code])).toEqual([
    [2, 'rules[0].duration.at_most', 'key-unknown'],
    [2, 'rules[0].duration.step', 'step-unknown'],
    [3, 'rules[1].limt', 'key-unknown'],
    [4, 'rules[2].statement', 'type-wrong'],
    [4, 'rules[2].within.range_m', 'within-reversed'],
  ]);
});

test('a step id that is no text does not make the rules seem wrong', () => {
  const plan = readPlanFile(
    'plan: { title: T, hold_rate_mps: 1, hold_dwell_s: 5, steps: [{ id: 7, hold_m: 9, tolerance_m: 1, planned_s: 3 }] }',
    'plan.yaml',
  );
  expect(plan.issues.map((issue) => issue.keyPath)).toEqual(['plan.steps[0].id']);
  expect(plan.understood).toBeNull();
});

test('a file of another kind is told in at most fifty issues and a count', () => {
  const steps = Array.from({ length: 400 }, (_, index) => `{ id: ${index} }`).join(', ');
  const { issues } = readPlanFile(`plan: { steps: [${steps}] }`, 'plan.yaml');
  expect(issues).toHaveLength(51);
  expect(issues.at(-1)?.code).toBe('more-issues');
});

test('a syntax error is told once a line, a tab in place of all that follows from it', () => {
  const tab = readPlanFile('plan:\n\ttitle: T\n  hold_dwell_s: 5\n', 'plan.yaml');
  expect(lines(tab.issues)).toEqual([
    'plan.yaml:2: not readable as YAML: Tabs are not allowed as indentation',
  ]);
  const bracket = readPlanFile('plan: [[\n  title: T\n  steps: x\n  a: b\n', 'plan.yaml');
  expect(lines(bracket.issues)).toEqual([
    'plan.yaml:5: not readable as YAML: a list opened with [ is not closed with ] by here',
  ]);
  const quotes = readPlanFile('"'.repeat(1000), 'plan.yaml');
  expect(quotes.issues.map((issue) => issue.line)).toEqual([1]);
});

test('line ends of every kind are line ends', () => {
  const text = 'plan: 1\rextra: 2\r\nmore: 3\n';
  expect(readPlanFile(text, 'plan.yaml').issues.map((issue) => issue.line)).toEqual([1, 2, 3]);
});

test('numbers that are not finite are called so', () => {
  const text = 'plan: { title: T, hold_rate_mps: .inf, hold_dwell_s: .nan, steps: [] }';
  expect(readPlanFile(text, 'plan.yaml').issues.map((issue) => issue.message)).toEqual([
    'must be a finite number, found .inf or a number too large',
    'must be a finite number, found .nan',
    'must be a list of at least 1, found a list of 0',
  ]);
});

test('no name in a file reaches what every object inherits', () => {
  const { issues } = readRulesFile(
    '__proto__: 1\nrules: [{ id: a, statement: S, never: { event: e }, constructor: 3 }]',
    'rules.yaml',
  );
  expect(issues.map((issue) => [issue.code, issue.received])).toEqual([
    ['key-unknown', '__proto__'],
    ['key-unknown', 'constructor'],
  ]);
});

test('an issue is one line without control characters, whatever the file is called', () => {
  const issue: Issue = {
    code: 'x',
    severity: 'error',
    file: 'a\nb\u001b[31m.csv',
    message: 'found "\u0007\u202e"',
  };
  expect(formatIssue(issue)).toBe('a b [31m.csv: found " "');
});

test('the keys known to a source are those of its type', () => {
  const session =
    'title: A\nkind: flight\nzero: 2026-03-02T10:00:00Z\nsources:\n  - { file: a.vtt, type: events, lever_arm_m: 1 }\n';
  const { issues } = readSessionFile(session, 'session.yaml');
  expect(issues.map(({ message }) => message)).toEqual([
    expect.stringMatching(
      /unknown key "lever_arm_m"; known here: file, type, absent, time, clock, sep/,
    ),
  ]);
});
