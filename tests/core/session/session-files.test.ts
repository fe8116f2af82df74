import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { formatIssue, type Issue } from '@/lib/core/result';
import { sessionJsonSchemas } from '@/lib/core/session/json-schemas';
import { readPlanFile } from '@/lib/core/session/read-plan-file';
import { readRulesFile } from '@/lib/core/session/read-rules-file';
import { readSessionFile } from '@/lib/core/session/read-session-file';

const SESSION = `title: Heron 2 arrival
kind: flight
zero: 2026-03-02T10:00:00Z
sources:
  - file: nav.csv
    type: telemetry
    time: { column: utc, code: iso8601, scale: UTC }
    channels:
      x: { as: position.x, unit: ft, sign: -1 }
      roll: { as: attitude_error.roll, unit: deg }
      bus: { as: bus_voltage, unit: V, scale: 0.5 }
  - file: loop.vtt
    type: events
    clock: { align: callouts }
plan: plan.yaml
rules: rules.yaml
`;

const PLAN = `plan:
  title: Two steps
  hold_rate_mps: 0.02
  hold_dwell_s: 10
  steps:
    - { id: far, hold_m: 100, tolerance_m: 5, planned_s: 60 }
    - { id: in, to_m: 0, planned_s: 500, closing_rate_mps: [[100, 0.3], [0, 0.1]], tolerance_mps: 0.02 }
`;

const codes = (issues: readonly Issue[]) => issues.map((issue) => issue.code);
const edit = (text: string, from: string, to: string) => {
  expect(text).toContain(from);
  return text.replace(from, to);
};

test('a session file becomes SI, with defaults filled in', () => {
  const { value, issues } = readSessionFile(SESSION, 'session.yaml');
  expect(issues).toEqual([]);
  expect(value?.zero.taiNs).toBe(1_772_445_637_000_000_000n);
  const [nav, loop] = value?.sources ?? [];
  expect(nav).toMatchObject({ layout: 'wide', clock: { kind: 'given', offsetS: 0, driftPpm: 0 } });
  expect(nav?.type === 'telemetry' && nav.channels).toMatchObject([
    { column: 'x', as: 'position.x', siUnit: 'm', toSi: 0.3048, scale: 1, sign: -1 },
    { as: 'attitude_error.roll', siUnit: 'rad', toSi: Math.PI / 180 },
    { as: 'bus_voltage', siUnit: 'V', toSi: 1, scale: 0.5 },
  ]);
  expect(loop).toMatchObject({ time: null, clock: { kind: 'callouts', lagS: 0.8, lagSdS: 0.4 } });
});

test('JSON is read like YAML, a byte order mark is skipped', () => {
  const json = JSON.stringify({
    title: 'J',
    kind: 'simulation',
    zero: '2026-061T10:00:00Z',
    sources: [{ file: 'a.vtt', type: 'events' }],
  });
  expect(readSessionFile(`\uFEFF${json}`, 'session.json').value?.kind).toBe('simulation');
});

test('every form of the grammar is read', () => {
  const text = `title: All
kind: flight
zero: 2026-03-02T23:59:59.5Z
sources:
  - { file: g.csv, type: telemetry, time: { columns: [wk, sow], code: gps-week-seconds }, clock: { offset_s: 1.5, drift_ppm: -20 }, layout: long, name_column: n, value_column: v, channels: { R: { as: range, unit: ft } }, separator: semicolon, decimal: ',', encoding: UTF-8, points: { from: sensor, to: reflector }, velocity_frame: inertial, lever_arm_m: [1, 0, -0.5], stamp: received, latency_s: 0.4, available: afterwards, accuracy: { range_m: 0.05, body_rate: { value: 0.1, unit: deg/s } } }
  - { file: met.txt, type: events, time: { code: elapsed-dhms, from: 2026-03-01T00:00:00Z }, clock: { tie_points: [[20, 22], [10, 11]] } }
  - { file: orbit.oem, type: ephemeris }
simulations: { files: 'runs/*.csv', like: g.csv }
`;
  const { value, issues } = readSessionFile(text, 'session.yaml');
  expect(issues).toEqual([]);
  const [gps, met, orbit] = value?.sources ?? [];
  expect(gps).toMatchObject({
    layout: 'long',
    time: { columns: ['wk', 'sow'], scale: 'GPS' },
    dialect: { separator: ';', decimal: ',', encoding: 'utf-8' },
    declared: {
      points: 'sensor to reflector',
      leverArmM: [1, 0, -0.5],
      between: {
        vehicle: { name: 'sensor', isPort: false, toPortM: [1, 0, -0.5] },
        target: { name: 'reflector', isPort: false, toPortM: null },
      },
      latencyS: 0.4,
      accuracy: { range: 0.05, body_rate: (0.1 * Math.PI) / 180 },
    },
  });
  expect(met).toMatchObject({
    clock: {
      kind: 'tie-points',
      points: [
        [10, 11],
        [20, 22],
      ],
    },
  });
  expect(orbit?.type).toBe('ephemeris');
  expect(value?.simulations).toMatchObject({ files: 'runs/*.csv', like: 'g.csv' });
});

test.each([
  ['kind: flight', 'kind: fligth', 'value-unknown', 2, 'kind'],
  ['kind: flight', 'kind: flight\nmood: good', 'key-unknown', 3, 'mood'],
  ['zero: 2026-03-02T10:00:00Z\n', '', 'key-missing', 1, 'zero'],
  ['zero: 2026-03-02T10', 'zero: 2026-02-30T10', 'instant-not-readable', 3, 'zero'],
  ['zero: 2026-03-02T10', 'zero: 9999-03-02T10', 'instant-out-of-range', 3, 'zero'],
  ['zero: 2026-03-02T10', 'zero: 2031-03-02T10', 'leap-second-table-expired', 3, 'zero'],
  ['unit: ft', 'unit: s', 'unit-wrong', 9, 'sources[0].channels.x.unit'],
  ['unit: V', 'unit: wibble', 'unit-not-known', 11, 'sources[0].channels.bus.unit'],
  ['as: bus_voltage', 'as: position.x', 'unit-wrong', 11, 'sources[0].channels.bus.unit'],
  ['scale: 0.5', 'scale: "0.5"', 'type-wrong', 11, 'sources[0].channels.bus.scale'],
  ['scale: 0.5', 'scale: .nan', 'type-wrong', 11, 'sources[0].channels.bus.scale'],
  ['file: nav.csv', 'file: ../nav.csv', 'file-outside-folder', 5, 'sources[0].file'],
  ['file: loop.vtt', 'file: loop.csv', 'key-missing', 12, 'sources[1].time'],
  ['align: callouts', 'align: ears', 'value-unknown', 14, 'sources[1].clock.align'],
  ['code: iso8601', 'code: gps-week-seconds', 'columns-count', 7, 'sources[0].time.columns'],
  [
    'plan: plan.yaml',
    'plan: plan.yaml\nsimulations: { files: a/*.csv, like: b.csv }',
    'source-unknown',
    16,
    'simulations.like',
  ],
])('%j turned into %j is %s on line %i', (from, to, code, line, keyPath) => {
  const { issues } = readSessionFile(edit(SESSION, from, to), 'session.yaml');
  expect(issues).toContainEqual(
    expect.objectContaining({ code, line, keyPath, file: 'session.yaml' }),
  );
});

test('each fault is its own issue, in one reading', () => {
  const { value, issues } = readPlanFile(
    PLAN.replace('0.02\n', '"0.02"\n').replace('hold_m: 100', 'hold: 100'),
    'plan.yaml',
  );
  expect(value).toBeNull();
  expect(codes(issues)).toEqual(['type-wrong', 'key-unknown']);
  expect(issues.map(formatIssue)[0]).toBe(
    'plan.yaml:3 plan.hold_rate_mps: must be a number, found the text "0.02"',
  );
});

test('a plan fills in the defaults and turns its profile to rising range', () => {
  const { value, issues } = readPlanFile(PLAN, 'plan.yaml');
  expect(issues).toEqual([]);
  expect(value).toMatchObject({
    accelerationMps2: 0.01,
    contactAxialM: 0,
    holdCrossSpeedMps: null,
  });
  expect(value?.steps[1]).toMatchObject({
    kind: 'move',
    closingRateMps: [
      [0, 0.1],
      [100, 0.3],
    ],
  });
});

test.each([
  ['[[100, 0.3], [0, 0.1]]', '[[100, 0.3], [0, 0.1], [50, 0.2]]', 'profile-not-ascending'],
  ['[[100, 0.3], [0, 0.1]]', '[[0, 0.3], [0, 0.1]]', 'profile-not-ascending'],
  [', closing_rate_mps: [[100, 0.3], [0, 0.1]]', '', 'key-missing'],
  ['id: in', 'id: far', 'id-twice'],
  ['hold_rate_mps: 0.02', 'hold_rate_mps: 0', 'value-out-of-bounds'],
  ['hold_dwell_s: 10', 'hold_dwell_s: 10\n  hold_dwell_s: 20', 'key-twice'],
])('a plan with %j turned into %j is refused: %s', (from, to, code) => {
  const { value, issues } = readPlanFile(edit(PLAN, from, to), 'plan.yaml');
  expect(value).toBeNull();
  expect(codes(issues)).toContain(code);
});

const rule = (body: string) =>
  readRulesFile(
    `rules:\n  - { id: r, statement: s, ${body} }\n`,
    'rules.yaml',
    readPlanFile(PLAN, 'plan.yaml').value,
  );

test('each kind of rule is read into SI', () => {
  expect(rule('quantity: closing_rate, limit: { constant: 1, unit: ft/s }').value).toEqual([
    {
      id: 'r',
      statement: 's',
      within: null,
      persistsS: 0,
      kind: 'quantity',
      quantity: 'closing_rate',
      sense: 'at-most',
      limit: { kind: 'constant', value: 0.3048 },
      unit: 'ft/s',
    },
  ]);
  expect(
    rule(
      'quantity: lateral_offset, limit: { cone: { half_angle_deg: 3, floor_m: 0.25 } }, within: { axial_m: [1, 9], step: in }, persists_s: 2',
    ).value,
  ).toMatchObject([
    {
      within: { rangeM: null, axialM: [1, 9], step: 'in' },
      persistsS: 2,
      limit: { kind: 'cone', halfAngleRad: expect.closeTo(Math.PI / 60, 14) },
      unit: 'm',
    },
  ]);
  expect(
    rule('quantity: propellant_mass, at_least: { constant: 10, unit: lb }').value,
  ).toMatchObject([{ sense: 'at-least', limit: { value: expect.closeTo(4.535_923_7, 12) } }]);
  expect(
    rule('order: { first: { event: a }, then: { step: in, edge: start } }').value,
  ).toMatchObject([
    // biome-ignore lint/suspicious/noThenProperty: the rule grammar's own word, never awaited
    { kind: 'order', firstEvent: 'a', then: { kind: 'step-edge', step: 'in', edge: 'start' } },
  ]);
  expect(rule('never: { event: a }').value).toMatchObject([{ kind: 'never', event: 'a' }]);
  expect(rule('duration: { step: in, at_most_s: 9 }').value).toMatchObject([
    { atMostS: 9, atLeastS: null },
  ]);
});

test.each([
  ['quantity: range', 'key-missing'],
  [
    'quantity: range, limit: { constant: 1, unit: m }, at_least: { constant: 0, unit: m }',
    'key-conflict',
  ],
  ['quantity: range, limit: { constant: 1, unit: deg }', 'unit-wrong'],
  ['quantity: lateral_offset, limit: { by: range, points_m_mps: [[0, 1]] }', 'limit-misfit'],
  ['quantity: closing_rate, limit: { cone: { half_angle_deg: 3, floor_m: 1 } }', 'limit-misfit'],
  [
    'quantity: closing_rate, limit: { by: range, points_m_mps: [[0, 1], [9, 1], [5, 1]] }',
    'profile-not-ascending',
  ],
  ['never: { event: a }, within: { range_m: [9, 1] }', 'within-reversed'],
  ['never: { event: a }, within: {}', 'within-empty'],
  ['never: { event: a }, within: { step: out }', 'step-unknown'],
  ['duration: { step: out, at_most_s: 1 }', 'step-unknown'],
  ['duration: { step: in }', 'key-missing'],
  ['duration: { step: in, at_most_s: 1, at_least_s: 2 }', 'bounds-reversed'],
  ['order: { first: { event: a }, then: { step: in, edge: begin } }', 'value-unknown'],
  ['persists_s: 2', 'key-missing'],
])('a rule with %j is refused: %s', (body, code) => {
  const { value, issues } = rule(body);
  expect(value).toBeNull();
  expect(codes(issues)).toContain(code);
});

test.each([
  ['', 'file-empty'],
  ['a: [1, 2', 'yaml-not-readable'],
  ['a: 1\n---\nb: 2', 'yaml-not-readable'],
  ['%PDF-1.7', 'yaml-not-readable'],
  ['words', 'type-wrong'],
  ['['.repeat(50_000), 'yaml-too-deep'],
  [`${'['.repeat(40)}${']'.repeat(40)}`, 'yaml-too-deep'],
  ['x'.repeat(1_000_001), 'file-too-large'],
  [
    'a: &a [1, 1, 1]\nb: &b [*a, *a, *a, *a, *a]\nc: &c [*b, *b, *b, *b, *b]\nd: [*c, *c, *c, *c, *c]',
    'yaml-aliases',
  ],
])('text that is no such file gets one clear issue (%#)', (text, code) => {
  const { value, issues } = readRulesFile(text, 'rules.yaml');
  expect(value).toBeNull();
  expect(codes(issues)).toEqual([code]);
});

test('the JSON Schemas beside the readers are current', () => {
  for (const [fileName, text] of sessionJsonSchemas()) {
    const file = path.join('lib', 'core', 'session', 'schemas', fileName);
    expect(JSON.parse(readFileSync(file, 'utf8')), fileName).toEqual(JSON.parse(text));
  }
});
