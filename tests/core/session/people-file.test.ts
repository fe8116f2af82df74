import { expect, test } from 'vitest';
import type { ClockCorrection } from '@/lib/core/session/clock-correction';
import type { PhaseEdit } from '@/lib/core/session/phase-edit';
import { readPeopleFile } from '@/lib/core/session/read-people-file';
import type { RuleDisposition } from '@/lib/core/session/rule-disposition';
import type { StretchCorrection } from '@/lib/core/session/stretch-correction';
import { writePeopleFile } from '@/lib/core/session/write-people-file';

const place = { source: 'loop.vtt', line: 21, nth: 1 };
const said = { by: 'R. Okafor', reason: 'said of the hold' };
const none = { by: null, reason: null };

const CORRECTIONS: readonly ClockCorrection[] = [
  { kind: 'reject', ...place, ...said },
  { kind: 'accept', ...place, line: 33, ...none },
  { kind: 'correct', ...place, nth: 2, quantity: 'range', saidSi: 120, ...none },
  { kind: 'correct', ...place, line: 50, quantity: 'rate', saidSi: -0.07, ...none },
  { kind: 'tie-point', source: 'loop.vtt', sourceS: 1622, sessionS: 1661.25, sdS: 0.3, ...none },
];

const STRETCHES: readonly StretchCorrection[] = [
  { source: 'tm.csv', channel: 'x', fromS: 10, toS: 20.5, use: 'keep', ...said },
  { source: 'tm.csv', channel: 'vx', fromS: -3, toS: 0, use: 'leave-out', ...none },
];

test('corrections of clocks and stretches are written and read back to the same', () => {
  const people = { clockCorrections: CORRECTIONS, stretchCorrections: STRETCHES };
  const text = writePeopleFile(people);
  expect(readPeopleFile(text, 'people.yaml')).toEqual({
    value: people,
    understood: people,
    issues: [],
  });
});

test('the first value of a line and 0.2 s are meant where nothing else is said', () => {
  const text = `clock_corrections:
  - { source: a.txt, line: 4, callout: accept }
  - { source: a.txt, tie_point: [10, 12.5] }
`;
  expect(readPeopleFile(text, 'people.yaml').value?.clockCorrections).toMatchObject([
    { kind: 'accept', nth: 1 },
    { kind: 'tie-point', sdS: 0.2 },
  ]);
});

test('a correction that says nothing readable is an error with its line', () => {
  const text = `clock_corrections:
  - { source: a.txt, line: 4, callout: perhaps }
`;
  const { value, issues } = readPeopleFile(text, 'people.yaml');
  expect(value).toBeNull();
  expect(issues).toEqual([
    expect.objectContaining({ severity: 'error', file: 'people.yaml', line: 2 }),
  ]);
});

test('dispositions of rules are written and read back to the same', () => {
  const ruleDispositions: readonly RuleDisposition[] = [
    {
      rule: 'hold-40-length',
      disposition: 'waived',
      givenBy: 'DIRECTOR',
      atS: null,
      entry: { source: 'events.csv', line: 22 },
      amendedTo: null,
      ...said,
    },
    {
      rule: 'corridor',
      disposition: 'amended',
      givenBy: null,
      atS: 2352.5,
      entry: null,
      amendedTo: 'Inside 3 deg: "as briefed"',
      ...none,
    },
  ];
  const people = { clockCorrections: [], stretchCorrections: [], ruleDispositions };
  expect(readPeopleFile(writePeopleFile(people), 'people.yaml').value).toEqual(people);
});

test('corrections of phases are written and read back to the same', () => {
  const phaseEdits: readonly PhaseEdit[] = [
    {
      kind: 'move-edge',
      edgeS: 722.0512345678901,
      before: 'hold',
      after: 'closing',
      toS: 730,
      sdS: null,
      ...said,
    },
    { kind: 'split-run', motion: 'closing', atS: 800.5, sdS: 2, ...none },
    { kind: 'name-run', motion: 'crossing', fromS: 10, toS: 60, step: null, ...said },
    { kind: 'name-run', motion: 'hold', fromS: 60, toS: 90, step: 'hold-100', ...said },
    { kind: 'contact', atS: 1500, sdS: 0.5, basis: 'port camera: first touch', ...said },
  ];
  const people = { clockCorrections: [], stretchCorrections: [], phaseEdits };
  expect(readPeopleFile(writePeopleFile(people), 'people.yaml').value).toEqual(people);
});

test('contact without its standard deviation or basis is an error with its line', () => {
  const text = `phase_corrections:
  - { contact_s: 1500, sd_s: 0.5, basis: camera }
  - { contact_s: 1500, basis: camera }
`;
  const { value, issues } = readPeopleFile(text, 'people.yaml');
  expect(value).toBeNull();
  expect(issues).toEqual([expect.objectContaining({ severity: 'error', line: 3 })]);
});

test('a task load is read as the plain mean of its six sub-scales, and written as it came', () => {
  const text = `handling_ratings:
  - task: dock
    scale: task-load
    load: { mental: 70, physical: 20, temporal: 55, performance: 30, effort: 60, frustration: 35 }
    rater: PILOT
`;
  const { value, issues } = readPeopleFile(text, 'people.yaml');
  expect(issues).toEqual([]);
  // By hand: 270 / 6.
  expect(value?.handlingRatings?.[0]).toMatchObject({
    scale: 'task-load',
    rating: 45,
    answers: {},
  });
  const again = readPeopleFile(writePeopleFile(value ?? fail()), 'people.yaml');
  expect(again.value).toEqual(value);
  const odd = readPeopleFile(text.replace('mental: 70', 'mental: 71'), 'people.yaml');
  expect(odd.value).toBeNull();
});

function fail(): never {
  throw new Error('nothing was read');
}

test('a task named twice is told once, and both are kept', () => {
  const task = '{ name: dock, pilot: P, from_s: 0, to_s: 9, quantity: y, desired: 1, adequate: 2 }';
  const text = `handling_tasks:\n  - ${task}\n  - ${task.replace('to_s: 9', 'to_s: 8')}\n`;
  const { value, issues } = readPeopleFile(text, 'people.yaml');
  expect(value?.handlingTasks).toHaveLength(2);
  expect(issues).toMatchObject([{ code: 'task-twice', severity: 'warning', received: 'dock' }]);
});
