import { expect, test } from 'vitest';
import { stateAtPoll } from '@/lib/core/reconstruction/state-at-poll';
import type { Rule } from '@/lib/core/session/rule';
import type { LogEntry, SessionInput, TelemetrySource } from '@/lib/core/session/session-input';
import { pollView } from '@/lib/view/poll-view';
import { expectWithin } from '../../support/expect-within';
import {
  channel,
  flownSession,
  flownTelemetry,
  lateralTruth,
  plannedArrival,
  sessionOf,
  telemetrySource,
} from '../../support/flown-session';
import { RATE_RULE } from '../../support/rate-rule';

const FLIGHT = { axial: plannedArrival(), durationS: 2000, velocityNoiseMps: 0.001, stepS: 1 };

const event = (sourceS: number, name: string): LogEntry => ({
  sourceS,
  sourceEndS: null,
  event: name,
  text: null,
  speaker: null,
  line: 2 + sourceS,
});

const common = { within: null, persistsS: 0 };
const RULES: readonly Rule[] = [
  RATE_RULE,
  {
    kind: 'quantity',
    id: 'pressure',
    statement: 'Pressure.',
    quantity: 'port_pressure',
    sense: 'at-most',
    limit: { kind: 'constant', value: 5 },
    unit: 'Pa',
    ...common,
  },
  {
    kind: 'order',
    id: 'go-first',
    statement: 'Go before the final approach.',
    firstEvent: 'go',
    // biome-ignore lint/suspicious/noThenProperty: the rule grammar's own word
    then: { kind: 'step-edge', step: 'final', edge: 'start' },
    ...common,
  },
  { kind: 'never', id: 'no-command', statement: 'None.', event: 'command', ...common },
  {
    kind: 'duration',
    id: 'hold-length',
    statement: 'Hold.',
    step: 'hold-30',
    atMostS: 100,
    atLeastS: 20,
    ...common,
  },
];

const LOG = [event(300, 'poll'), event(470, 'go'), event(600, 'command')];
const whole = flownSession({ ...FLIGHT, rules: RULES, entries: LOG });

const pressure = (values: (atS: number) => number, more: Partial<TelemetrySource>) => {
  const tS = Float64Array.from({ length: 800 }, (_, row) => row);
  return telemetrySource(tS, [channel('p', 'port_pressure', 'Pa', tS.map(values))], {
    file: 'pressure.csv',
    ...more,
  });
};
const declared = (said: Partial<TelemetrySource['declared']>): TelemetrySource['declared'] => ({
  ...flownTelemetry(FLIGHT).declared,
  ...said,
});
const withSource = (input: SessionInput, source: TelemetrySource): SessionInput => ({
  ...input,
  sources: [...input.sources, source],
});
const ruleAt = (input: SessionInput, atS: number, id: string) =>
  stateAtPoll(input, atS).rules.find((rule) => rule.id === id);

test('a rule stands at an instant where the true motion stands', () => {
  const atS = 250;
  const { xM, vMps } = FLIGHT.axial(atS);
  const side = lateralTruth({ ...FLIGHT }, atS);
  const rule = ruleAt(whole, atS, 'rate');
  const rangeM = Math.hypot(xM, side.yM, side.zM);
  const closing = -(xM * vMps + side.yM * side.vyMps + side.zM * side.vzMps) / rangeM;
  expectWithin(rule?.value?.value, closing, 0.003, 'noise 1 mm/s, ends of a line over 2 s');
  // The limit is 0.3 m/s at 31 m and 0.4 m/s at 200 m, linear between.
  const limit = 0.3 + ((rangeM - 31) / 169) * 0.1;
  expectWithin(rule?.limit?.value, limit, 2e-4, 'range known to decimetres');
  expectWithin(rule?.margin?.value, limit - closing, 0.003, 'as the value');
  expectWithin(rule?.ageS?.value, 0, 0.5, 'a row every half second');
  expect(rule?.standing).toBe('inside');
});

test('the trend of the room is the slope of the limit under way', () => {
  // At a steady 0.2 m/s the limit falls by 0.1 / 169 m/s a metre.
  const rule = ruleAt(whole, 250, 'rate');
  const half = rule?.trendPerS?.uncertainty?.random ?? Number.NaN;
  expectWithin(
    rule?.trendPerS?.value,
    (-0.2 * 0.1) / 169,
    1.5 * half,
    '95 % half-width and a half',
  );
});

test('a recording that arrived afterwards changes nothing', () => {
  const later = pressure((atS) => atS, { declared: declared({ available: 'afterwards' }) });
  const before = stateAtPoll(whole, 500);
  const after = stateAtPoll(withSource(whole, later), 500);
  const plain = ({ rules, ...rest }: typeof before) =>
    JSON.stringify({
      ...rest,
      sources: null,
      unknown: null,
      rules: rules.map(({ words: _, ...one }) => one),
    });
  expect(plain(after)).toBe(plain(before));
  expect(after.rules.find(({ id }) => id === 'pressure')).toMatchObject({
    standing: 'not known',
    value: null,
    words: 'port_pressure is in pressure.csv alone, which arrived afterwards.',
  });
  expect(after.unknown[0]).toBe('Arrived afterwards and not used: pressure.csv.');
});

test('a better motion that arrived afterwards changes nothing either', () => {
  const better = {
    ...flownTelemetry({ ...FLIGHT, seed: 9, velocityNoiseMps: 0 }),
    file: 'post-flight.csv',
    declared: declared({ available: 'afterwards' }),
  };
  // First in the list: it would be the one taken if it counted.
  const input = { ...whole, sources: [better, ...whole.sources] };
  expect(JSON.stringify(stateAtPoll(input, 500).rules)).toBe(
    JSON.stringify(stateAtPoll(whole, 500).rules),
  );
});

test('a log that came afterwards is not read, so its events had not been seen', () => {
  const sources = whole.sources.map((source) =>
    source.type === 'events' ? { ...source, available: 'afterwards' as const } : source,
  );
  const { rules, unknown } = stateAtPoll({ ...whole, sources }, 620);
  expect(rules.find(({ id }) => id === 'no-command')).toMatchObject({
    standing: 'not known',
    words: 'No log had an entry by then.',
  });
  expect(unknown[0]).toBe('Arrived afterwards and not used: events.csv.');
});

test('what is recorded after the instant changes nothing', () => {
  const atS = 500;
  const sources = whole.sources.map((source) => {
    if (source.type !== 'telemetry') {
      return { ...source, entries: source.entries.filter(({ sourceS }) => sourceS <= atS) };
    }
    const channels = source.channels.map((one) => ({
      ...one,
      values: one.values.map((value, row) => ((source.tS[row] ?? 0) > atS ? -7 : value)),
    }));
    return { ...source, channels };
  });
  expect(JSON.stringify(stateAtPoll({ ...whole, sources }, atS))).toBe(
    JSON.stringify(stateAtPoll(whole, atS)),
  );
});

test('a row that is 3 s under way is not there yet, and its stamp tells its age', () => {
  const latest = (said: Partial<TelemetrySource['declared']>) =>
    ruleAt(
      withSource(
        whole,
        pressure(() => 2, { declared: declared(said) }),
      ),
      500,
      'pressure',
    );
  expect(latest({})?.ageS?.value).toBe(0);
  expect(latest({ stamp: 'measured', latencyS: 3 })?.ageS?.value).toBe(3);
  // Stamped on receipt, measured 3 s before: the row of 500 s is there and 3 s old.
  expect(latest({ stamp: 'received', latencyS: 3 })?.ageS?.value).toBe(3);
});

test.each([
  // Stamped 600 s and 8 s on its way: not there before 608 s, whether it was measured or made then.
  [{ stamp: 'generated', latencyS: 8 }, 607.9, 'held'],
  [{ stamp: 'generated', latencyS: 8 }, 608, 'broken'],
  [{ stamp: 'measured', latencyS: 8 }, 607.9, 'held'],
  [{ latencyS: 8 }, 607.9, 'held'],
  // Stamped on receipt: there at its stamp, however long it was under way.
  [{ stamp: 'received', latencyS: 8 }, 600, 'broken'],
] as const)(
  'a log entry stamped %o counts from its reception on: %d s, %s',
  (said, atS, standing) => {
    const sources = whole.sources.map((source) =>
      source.type === 'events' ? { ...source, ...said } : source,
    );
    expect(ruleAt({ ...whole, sources }, atS, 'no-command')?.standing).toBe(standing);
  },
);

test('the age of a log counts from what its last entry tells of', () => {
  const sources = whole.sources.map((source) =>
    source.type === 'events' ? { ...source, stamp: 'received' as const, latencyS: 8 } : source,
  );
  const log = stateAtPoll({ ...whole, sources }, 610).sources.find(({ type }) => type === 'events');
  // By hand: stamped 600 s on receipt, so it happened at 592 s, 18 s before.
  expect(log?.ageS?.value).toBe(18);
});

test('a row stamped when it was made is not there before it was received either', () => {
  const said = { declared: declared({ stamp: 'generated', latencyS: 3 }) };
  const late = withSource(
    whole,
    pressure((atS) => (atS >= 500 ? 9 : 2), said),
  );
  expect(ruleAt(late, 502.9, 'pressure')?.value?.value).toBe(2);
  expect(ruleAt(late, 503, 'pressure')?.value?.value).toBe(9);
});

test.each([
  // A row a second: the newest one received is at most 1 s older than the latency, whatever its stamp means.
  [{ stamp: 'measured', latencyS: 8 }, 400.5, 8.5],
  [{ stamp: 'generated', latencyS: 8 }, 400.5, 8.5],
  [{ stamp: 'received', latencyS: 8 }, 400.5, 8.5],
] as const)('a latency of 8 s alone makes no value stale: %o', (said, atS, ageS) => {
  const late = withSource(
    whole,
    pressure(() => 2, { declared: declared(said) }),
  );
  const rule = ruleAt(late, atS, 'pressure');
  expect(rule?.ageS?.value).toBe(ageS);
  expect(rule?.standing).toBe('inside');
  // The last of 800 rows is that of 799 s: 8 s and the longest step that is no gap later a newer one is missing.
  const measuredS = said.stamp === 'received' ? 791 : 799;
  const missing = ruleAt(late, measuredS + 40, 'pressure');
  expect(missing?.standing).toBe('stale');
  expect(missing?.words).toContain('40.0 s old');
});

test('first touch stands on the board from when it was known, and not before', () => {
  const entries = [...LOG, event(700, 'contact')];
  const touched = flownSession({ ...FLIGHT, rules: RULES, entries });
  expect(stateAtPoll(touched, 699).touchedS).toBeNull();
  const state = stateAtPoll(touched, 705);
  expect(state.touchedS).toBe(700);
  const { under, unknown } = pollView(state, RULES, 's');
  expect(under).toBe('capture, after first touch');
  expect(unknown[0]).toContain('First touch had been at 00:11:40.0');
});

test('a value from before a gap does not speak for an instant inside it', () => {
  const gap = flownSession({ ...FLIGHT, rules: RULES, entries: LOG, gapS: [200, 260] });
  const rule = ruleAt(gap, 240, 'rate');
  expect(rule?.standing).toBe('stale');
  expectWithin(rule?.ageS?.value, 40, 1, 'the last row before the gap');
});

test.each([
  [30, 'not known', 'not known', 'open'],
  [460, 'open', 'held', 'open'],
  [475, 'held', 'held', 'open'],
  [620, 'held', 'broken', 'held'],
] as const)('at %d s go-first is %s, no-command %s, the hold %s', (atS, go, command, hold) => {
  const { rules } = stateAtPoll(whole, atS);
  const standing = (id: string) => rules.find((rule) => rule.id === id)?.standing;
  expect([standing('go-first'), standing('no-command'), standing('hold-length')]).toEqual([
    go,
    command,
    hold,
  ]);
});

test('without telemetry and log nothing is known, and that is said', () => {
  const state = stateAtPoll(sessionOf([], whole.plan, RULES), 100);
  expect(state.rules.map(({ standing }) => standing)).toEqual([
    'not known',
    'not known',
    'not known',
    'not known',
    'open',
  ]);
  expect(state.rangeM).toBeNull();
});
