/** Files damaged at random: whatever comes in, a reader answers with a value or with issues. */
import { expect, test } from 'vitest';
import { findCallouts } from '@/lib/core/callouts/find-callouts';
import { detectDialect } from '@/lib/core/intake/dialect';
import { readEventLog } from '@/lib/core/intake/event-log';
import { EVENT_READERS } from '@/lib/core/intake/formats/registry';
import { hasErrors, type Parsed } from '@/lib/core/result';
import { readPlanFile } from '@/lib/core/session/read-plan-file';
import { readRulesFile } from '@/lib/core/session/read-rules-file';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import type { Instant } from '@/lib/core/time/instant';
import type { TimeSpec } from '@/lib/core/time/time-code';
import { seededRandom } from '../../support/seeded-random';

const readLog = (
  text: string,
  fileName: string,
  time: TimeSpec | null,
  zero: Instant,
  readers = EVENT_READERS,
) => readEventLog({ text, fileName, time, zero }, readers);

const SESSION = `title: A
kind: flight
zero: 2026-03-02T10:00:00Z
sources:
  - file: nav.csv
    type: telemetry
    time: { column: utc, code: iso8601, scale: UTC }
    channels: { x: { as: position.x, unit: ft, sign: -1 }, q: { as: own, unit: V } }
  - { file: loop.vtt, type: events, clock: { tie_points: [[0, 1], [10, 12]] } }
plan: plan.yaml
rules: rules.yaml
simulations: { files: 'runs/*.csv', like: nav.csv }
`;
const PLAN = `plan:
  title: P
  hold_rate_mps: 0.02
  hold_dwell_s: 10
  steps:
    - { id: far, hold_m: 100, tolerance_m: 5, planned_s: 60 }
    - { id: in, to_m: 0, planned_s: 500, closing_rate_mps: [[100, 0.3], [0, 0.1]], tolerance_mps: 0.02 }
`;
const RULES = `rules:
  - { id: a, statement: s, quantity: closing_rate, limit: { by: range, points_m_mps: [[0, 0.1], [9, 0.2]] }, within: { range_m: [0, 9] } }
  - { id: b, statement: s, order: { first: { event: e }, then: { step: in, edge: start } } }
  - { id: c, statement: s, never: { event: e }, persists_s: 2 }
`;
const VTT =
  'WEBVTT\n\n1\n00:00:05.000 --> 00:00:07.500\n<v FLIGHT>Range 200 meters, closing at 0.25 meters per second.\n\n00:09.000 --> 00:10.000\nTwo hundred and five metres to go.\n';
const CSV = 't,event,text\n1.5,poll,"CREW: ""Go"", one"\n2.5,,Range 20 metres.\n';

const PIECES = [
  '',
  '\n',
  ' ',
  ':',
  '-',
  '"',
  "'",
  '{',
  '}',
  '[',
  ']',
  ',',
  '&a ',
  '*a',
  '!!',
  '%',
  '#',
  '\t',
  '\u0000',
  '\uFEFF',
  '\u2028',
  '1e999',
  '.nan',
  '-->',
  '<v',
  '99999999999999999999',
  'null',
  '~',
  '<<: ',
  '? ',
  'é',
  '\uD800',
];

function damage(text: string, random: () => number): string {
  let result = text;
  const cuts = 1 + Math.floor(random() * 4);
  for (let count = 0; count < cuts; count += 1) {
    const at = Math.floor(random() * result.length);
    const length = random() < 0.5 ? Math.floor(random() * 12) : 0;
    const piece = PIECES[Math.floor(random() * PIECES.length)] ?? '';
    result = result.slice(0, at) + piece + result.slice(at + length);
  }
  return random() < 0.05 ? result.slice(0, Math.floor(random() * result.length)) : result;
}

/** A value or an error, and every issue a sentence. */
function expectAnswer(parsed: Parsed<unknown>, text: string): void {
  expect(parsed.value === null ? hasErrors(parsed.issues) : !hasErrors(parsed.issues), text).toBe(
    true,
  );
  for (const issue of parsed.issues) expect(issue.message.length, text).toBeGreaterThan(5);
}

const time = {
  columns: ['t'],
  code: 'elapsed-seconds',
  scale: 'UTC',
  from: { taiNs: 0n },
} as const;

test.each([
  ['session', SESSION, (text: string) => readSessionFile(text, 'session.yaml')],
  ['plan', PLAN, (text: string) => readPlanFile(text, 'plan.yaml')],
  [
    'rules',
    RULES,
    (text: string) => readRulesFile(text, 'rules.yaml', readPlanFile(PLAN, 'p').value),
  ],
  ['captions', VTT, (text: string) => readLog(text, 'loop.vtt', null, { taiNs: 0n })],
  ['events', CSV, (text: string) => readLog(text, 'events.csv', time, { taiNs: 0n })],
  [
    'dialect',
    CSV,
    (text: string) => detectDialect(text, { separator: null, decimal: null, encoding: null }),
  ],
] as const)('a damaged %s file gets an answer (seeded)', (_, whole, read) => {
  const random = seededRandom(1966);
  expectAnswer(read(whole), whole);
  for (let round = 0; round < 200; round += 1) {
    const text = damage(whole, random);
    expectAnswer(read(text), text);
  }
});

test('damaged words never break the search for callouts, and every value is a number (seeded)', () => {
  const random = seededRandom(8);
  for (let round = 0; round < 1000; round += 1) {
    const text = damage(
      'We are inside two hundred and five point two metres, closing at 0.25 meters per second.',
      random,
    );
    for (const { valueSi } of findCallouts([
      { sourceS: 0, sourceEndS: null, event: null, text, speaker: null, line: 1 },
    ])) {
      expect(Number.isFinite(valueSi), text).toBe(true);
    }
  }
});
