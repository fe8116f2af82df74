import { describe, expect, test } from 'vitest';
import { halfWidth95 } from '@/lib/core/figure';
import { reconstructionFile } from '@/lib/core/reconstruction/contract-file';
import { explainFigure, listFigures } from '@/lib/core/reconstruction/list-figures';
import { motionReachesContact } from '@/lib/core/reconstruction/reaches-contact';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Rule } from '@/lib/core/session/rule';
import type { LogEntry, SessionInput, TelemetrySource } from '@/lib/core/session/session-input';
import { expectWithin } from '../../support/expect-within';
import {
  channel,
  FLOWN_PLAN,
  type FlownOptions,
  flownSession,
  flownTelemetry,
  plannedArrival,
  sessionOf,
  TEST_ENGINE,
} from '../../support/flown-session';
import { RATE_RULE } from '../../support/rate-rule';

const AS_PLANNED: FlownOptions = { axial: plannedArrival(), durationS: 2000 };

function entry(sourceS: number, event: string | null): LogEntry {
  return { sourceS, sourceEndS: null, event, text: null, speaker: null, line: 1 };
}

const NEAR_RULE: Rule = {
  ...RATE_RULE,
  within: { rangeM: [0, 200], axialM: null, step: null },
  persistsS: 2,
};

const NEVER_RULE: Rule = {
  kind: 'never',
  id: 'never',
  statement: 'No command near the port.',
  event: 'crew-command',
  within: { rangeM: [0, 2], axialM: null, step: null },
  persistsS: 0,
};

function run(input: SessionInput) {
  return reconstruct(input, TEST_ENGINE);
}

function withTelemetry(
  input: SessionInput,
  change: (source: TelemetrySource) => TelemetrySource,
): SessionInput {
  const sources = input.sources.map((source) =>
    source.type === 'telemetry' ? change(source) : source,
  );
  return { ...input, sources };
}

describe('an arrival flown as planned', () => {
  const { reconstruction, derived } = run(flownSession({ ...AS_PLANNED, rules: [NEAR_RULE] }));

  test('has the four phases of the plan, edges where the rate crosses 0.02 m/s', () => {
    expect(reconstruction.phases.map(({ motion, step }) => [motion, step])).toEqual([
      ['hold', 'hold-100'],
      ['closing', 'to-30'],
      ['hold', 'hold-30'],
      ['closing', 'final'],
    ]);
    // Ramps of 0.01 m/s2 pass 0.02 m/s 2 s after they begin and 2 s before they end.
    const [, closing, hold, final] = reconstruction.phases;
    expectWithin(closing?.startS.value, 62, 0.4, 'noise of the rate over the ramp, half a row');
    expectWithin(hold?.startS.value, 60 + 20 + 330 + 20 - 2, 0.4, 'as above');
    expectWithin(final?.startS.value, 490 + 2, 0.4, 'as above');
  });

  test('reaches the port by extrapolation over less than a row', () => {
    const timeS = 490 + 8 + (30 - 0.32) / 0.08;
    expect(reconstruction.contact?.basis).toBe('extrapolated');
    expectWithin(reconstruction.contact?.timeS.value, timeS, 0.5, 'x to 1 cm at 0.08 m/s');
    const conditions = reconstruction.contact?.conditions;
    expectWithin(conditions?.closing_rate?.value, 0.08, 0.003, 'six samples of 2 mm/s');
    expect(conditions?.attitude_error_roll).toBeUndefined();
  });

  test('keeps the planned rate between the ramps', () => {
    const deviation = reconstruction.phases[1]?.rateDeviation;
    expectWithin(deviation?.meanMps.value, 0, 3e-4, 'mean of 1500 samples');
    expectWithin(deviation?.rmsMps.value, 0, 3e-4, 'noise is taken out');
    expect(reconstruction.phases[0]?.rateDeviation).toBeNull();
  });

  test('has a margin at the place where rate and limit come closest', () => {
    const rule = reconstruction.rules[0];
    expect(rule?.verdict).toBe('met');
    expectWithin(rule?.margin?.value, 0.02, 0.003, 'noise of the smallest of many');
  });

  test('every number of the file is the value of the figure with its key', () => {
    const file = JSON.parse(JSON.stringify(reconstructionFile(reconstruction)));
    const figures = listFigures(reconstruction);
    expect(figures.get('phases[2].duration_s')?.value).toBe(file.phases[2].duration_s);
    expect(figures.get('steps[to-30].duration_s')?.value).toBe(file.steps[1].duration_s);
    expect(figures.get('rules[rate].margin')?.value).toBe(file.rules[0].margin);
    expect(figures.get('contact.closing_rate_mps')?.value).toBe(file.contact.closing_rate_mps);
    for (const [key, figure] of figures) {
      expect(figure.method, key).not.toBe('');
      expect(figure.evidence.sources.length, key).toBeGreaterThan(0);
    }
  });

  test('a figure explains itself, and an unknown key names some that exist', () => {
    const text = explainFigure(reconstruction, 'contact.closing_rate_mps');
    expect(text).toContain('contact.closing_rate_mps = 0.0');
    expect(text).toContain('method: Minus the mean axial velocity');
    expect(text).toContain('source: telemetry.csv');
    expect(explainFigure(reconstruction, 'phases[9].start_s')).toContain('phases[0].start_s');
  });

  test('derived columns have a value for each row', () => {
    expect(derived.columns.map(({ name }) => name)).toEqual([
      'range',
      'closing_rate',
      'axial_distance',
      'axial_closing_rate',
      'lateral_offset',
      'offset_y',
      'offset_z',
      'planned_closing_rate',
      'limit.rate',
    ]);
    for (const { values } of derived.columns) expect(values).toHaveLength(derived.tS.length);
  });
});

describe('what changes nothing', () => {
  const base = run(flownSession({ ...AS_PLANNED, rules: [NEAR_RULE] })).reconstruction;
  const text = JSON.stringify(reconstructionFile(base));

  test('the same input gives the same bytes', () => {
    const again = run(flownSession({ ...AS_PLANNED, rules: [NEAR_RULE] })).reconstruction;
    expect(JSON.stringify(reconstructionFile(again))).toBe(text);
  });

  test('an idle channel and another order of columns', () => {
    const input = withTelemetry(flownSession({ ...AS_PLANNED, rules: [NEAR_RULE] }), (source) => ({
      ...source,
      channels: [
        channel('idle', 'idle', '1', new Float64Array(source.tS.length)),
        ...[...source.channels].reverse(),
      ],
    }));
    expect(JSON.stringify(reconstructionFile(run(input).reconstruction))).toBe(text);
  });

  test('a mirrored lateral axis', () => {
    const input = withTelemetry(flownSession({ ...AS_PLANNED, rules: [NEAR_RULE] }), (source) => ({
      ...source,
      channels: source.channels.map((one) =>
        one.as.endsWith('.y') ? { ...one, values: one.values.map((value) => -value) } : one,
      ),
    }));
    expect(JSON.stringify(reconstructionFile(run(input).reconstruction))).toBe(text);
  });

  test('a later zero moves every time and nothing else', () => {
    const shiftS = 256;
    const input = withTelemetry(flownSession({ ...AS_PLANNED, rules: [NEAR_RULE] }), (source) => ({
      ...source,
      tS: source.tS.map((atS) => atS + shiftS),
    }));
    const moved = run(input).reconstruction;
    moved.phases.forEach((phase, i) => {
      const before = base.phases[i];
      expectWithin(phase.startS.value, (before?.startS.value ?? 0) + shiftS, 1e-7, 'rounding');
      expectWithin(phase.durationS.value, before?.durationS.value ?? 0, 1e-7, 'rounding');
    });
    expectWithin(
      moved.rules[0]?.margin?.value,
      base.rules[0]?.margin?.value ?? 0,
      1e-8,
      'rounding',
    );
  });

  test('finer sampling, within the half-widths', () => {
    const fine = run(flownSession({ ...AS_PLANNED, stepS: 0.1, seed: 8 })).reconstruction;
    fine.phases.slice(1).forEach((phase, i) => {
      const coarse = base.phases[i + 1];
      const half = Math.hypot(
        halfWidth95(phase.startS) ?? 0,
        (coarse && halfWidth95(coarse.startS)) ?? 0,
      );
      expectWithin(
        phase.startS.value,
        coarse?.startS.value ?? 0,
        2 * half,
        'twice both half-widths',
      );
    });
  });
});

describe('a gap', () => {
  const options: FlownOptions = { ...AS_PLANNED, gapS: [200, 245], rules: [NEAR_RULE] };

  test('does not end a phase and is reported from row to row', () => {
    const { reconstruction } = run(flownSession(options));
    expect(reconstruction.phases).toHaveLength(4);
    const gaps = reconstruction.dataQuality.filter(({ kind }) => kind === 'gap');
    expect(gaps).toHaveLength(1);
    expectWithin(gaps[0]?.startS, 200, 1e-9, 'last row before');
    expectWithin(gaps[0]?.endS, 245, 1e-9, 'first row after');
  });

  test('hides an event inside it when the range may have been within the rule', () => {
    const rule: Rule = { ...NEVER_RULE, within: { rangeM: [60, 65], axialM: null, step: null } };
    const log = [entry(220, 'crew-command')];
    const { reconstruction } = run(flownSession({ ...options, rules: [rule], entries: log }));
    expect(reconstruction.rules[0]).toMatchObject({
      verdict: 'not evaluated',
      reason: 'data-missing',
    });
  });
});

describe('rules that cannot be evaluated say why', () => {
  const result = (rule: Rule, entries?: readonly LogEntry[]) =>
    run(
      flownSession({
        ...AS_PLANNED,
        rules: [rule],
        ...(entries === undefined ? {} : { entries }),
      }),
    ).reconstruction.rules[0];

  test('a quantity without a channel', () => {
    const rule: Rule = { ...NEAR_RULE, quantity: 'port_pressure' };
    expect(result(rule)).toMatchObject({ verdict: 'not evaluated', reason: 'no-such-channel' });
  });

  test('an event that must not occur, without a log and with one', () => {
    expect(result(NEVER_RULE)).toMatchObject({ verdict: 'not evaluated', reason: 'no-event-log' });
    expect(result(NEVER_RULE, [entry(5, 'poll')])?.verdict).toBe('met');
    expect(result(NEVER_RULE, [entry(5, 'crew-command')])?.verdict).toBe('met');
    const late = result(NEVER_RULE, [entry(860, 'crew-command')]);
    expect(late).toMatchObject({ verdict: 'broken', atS: 860 });
  });

  test('words alone decide nothing', () => {
    const words = { ...entry(860, null), text: 'Crew command.' };
    const found = result(NEVER_RULE, [words]);
    expect(found?.verdict).toBe('met');
    expect(found?.explanation).toContain('no entry of the logs names an event');
  });

  test('an order without its event, and one the right and the wrong way round', () => {
    const order: Rule = {
      kind: 'order',
      id: 'order',
      statement: 'Cabin first.',
      firstEvent: 'cabin',
      // biome-ignore lint/suspicious/noThenProperty: the rule's own word, never awaited
      then: { kind: 'step-edge', step: 'final', edge: 'start' },
      within: null,
      persistsS: 0,
    };
    expect(result(order, [entry(5, 'poll')])).toMatchObject({ reason: 'no-such-event' });
    const met = result(order, [entry(400, 'cabin')]);
    expect(met?.verdict).toBe('met');
    expectWithin(met?.margin?.value, 492 - 400, 0.4, 'edge of the step');
    expect(result(order, [entry(500, 'cabin')])?.verdict).toBe('broken');
    // biome-ignore lint/suspicious/noThenProperty: the rule's own word, never awaited
    const unflown: Rule = { ...order, then: { kind: 'step-edge', step: 'dock', edge: 'end' } };
    expect(result(unflown, [entry(5, 'cabin')])).toMatchObject({ reason: 'step-not-flown' });
  });

  test('a duration against both bounds, and of a step that was not flown', () => {
    const duration: Rule = {
      kind: 'duration',
      id: 'length',
      statement: 'A minute at 30 m.',
      step: 'hold-30',
      atMostS: 120,
      atLeastS: 30,
      within: null,
      persistsS: 0,
    };
    expectWithin(result(duration)?.margin?.value, 64 - 30, 0.6, 'two edges');
    expect(result({ ...duration, atMostS: 50 })?.verdict).toBe('broken');
    expect(result({ ...duration, step: 'dock' })).toMatchObject({ reason: 'step-not-flown' });
  });

  test('a rule whose place was never reached does not apply', () => {
    const rule: Rule = { ...NEAR_RULE, within: { rangeM: [300, 400], axialM: null, step: null } };
    expect(result(rule)?.verdict).toBe('not applicable');
    const step: Rule = { ...NEAR_RULE, within: { rangeM: null, axialM: null, step: 'dock' } };
    expect(result(step)?.verdict).toBe('not applicable');
  });

  test('a margin smaller than its own uncertainty is undecided', () => {
    const rule: Rule = { ...NEAR_RULE, limit: { kind: 'constant', value: 0.2015 } };
    const found = result(rule);
    expect(found?.verdict).toBe('undecided');
    expect(Math.abs(found?.margin?.value ?? 1)).toBeLessThan(0.004);
  });

  test('a lower bound counts the other way round', () => {
    const within = { rangeM: [40, 90] as const, axialM: null, step: null };
    const rule: Rule = {
      ...NEAR_RULE,
      sense: 'at-least',
      limit: { kind: 'constant', value: 0.15 },
      within,
    };
    const found = result(rule);
    expect(found?.verdict).toBe('met');
    expectWithin(found?.margin?.value, 0.05, 0.003, 'noise of the smallest of many');
  });
});

describe('sessions with less', () => {
  test('no telemetry: a reconstruction that says so', () => {
    const { reconstruction, derived } = run(sessionOf([], FLOWN_PLAN, [NEAR_RULE]));
    expect(reconstruction.phases).toEqual([]);
    expect(reconstruction.steps.map(({ pieces }) => pieces)).toEqual([0, 0, 0, 0]);
    expect(reconstruction.contact).toBeNull();
    expect(reconstruction.rules[0]?.verdict).toBe('not evaluated');
    expect(derived.tS).toHaveLength(0);
    expect(reconstruction.notes.map(({ code }) => code)).toContain('no-telemetry');
    expect(JSON.stringify(reconstructionFile(reconstruction))).not.toContain('NaN');
  });

  test('no plan: rules without steps are still evaluated', () => {
    const input = sessionOf([flownTelemetry(AS_PLANNED)], null, [NEAR_RULE]);
    const { reconstruction } = run(input);
    expect(reconstruction.phases).toEqual([]);
    expect(reconstruction.rules[0]?.verdict).toBe('met');
    expect(reconstruction.contact).not.toBeNull();
  });

  test('a range and its rate alone give phases, but no lateral offset', () => {
    const full = flownTelemetry({ ...AS_PLANNED, lateralM: [0, 90] });
    const [x, , , vx] = full.channels;
    if (x === undefined || vx === undefined) throw new Error('columns missing');
    const channels = [
      channel('r', 'range', 'm', x.values),
      channel('rr', 'range_rate', 'm/s', vx.values),
    ];
    const cone: Rule = {
      ...NEAR_RULE,
      id: 'cone',
      quantity: 'lateral_offset',
      limit: { kind: 'cone', halfAngleRad: 0.05, floorM: 0.2 },
      unit: 'm',
      within: null,
    };
    const { reconstruction } = run(
      sessionOf([{ ...full, channels }], FLOWN_PLAN, [NEAR_RULE, cone]),
    );
    expect(reconstruction.phases.map(({ step }) => step)).toEqual([
      'hold-100',
      'to-30',
      'hold-30',
      'final',
    ]);
    expect(reconstruction.rules[0]?.verdict).toBe('met');
    expect(reconstruction.rules[1]).toMatchObject({ reason: 'no-such-channel' });
    expect(reconstruction.contact).toBeNull();
  });

  test('a logged contact stands in where the data end long before', () => {
    const options = { ...AS_PLANNED, durationS: 700, entries: [entry(870, 'contact')] };
    const { reconstruction } = run(flownSession(options));
    expect(reconstruction.contact?.basis).toBe('event');
    expect(reconstruction.contact?.timeS.value).toBe(870);
    // At 700 s the vehicle closes at 0.08 m/s from some 14 m: contact at 870 s follows from it.
    expect(reconstruction.phases.at(-1)?.endS.value).toBe(870);
    expect(reconstruction.contact?.conditions).toEqual({});
    expect(reconstruction.contact?.timeS.evidence.sources.map(({ file }) => file)).not.toContain(
      reconstruction.sources.find(({ type }) => type === 'telemetry')?.file,
    );
    expect(reconstruction.notes.map(({ code }) => code)).toContain('data-end-before-contact');
  });

  test('a hold that breaks off is not carried on to a contact logged much later', () => {
    const options = { ...AS_PLANNED, durationS: 30, entries: [entry(870, 'contact')] };
    const { reconstruction } = run(flownSession(options));
    expect(reconstruction.contact?.timeS.value).toBe(870);
    expect(reconstruction.phases).toHaveLength(1);
    expectWithin(reconstruction.phases[0]?.endS.value, 30, 1, 'the last row');
    expect(motionReachesContact(reconstruction)).toBe(false);
    expect(reconstruction.contact?.conditions).toEqual({});
  });

  test('data that end within a minute of contact still give its conditions', () => {
    const options = { ...AS_PLANNED, durationS: 840, entries: [entry(870, 'contact')] };
    const { reconstruction } = run(flownSession(options));
    const rate = reconstruction.contact?.conditions.closing_rate;
    expectWithin(rate?.value, 0.08, 0.004, 'the rate of the plan');
    expect(rate?.method).toContain('Data end 30.0 s before contact.');
  });

  test('one row, and rows without a value, are no crash', () => {
    const source = flownTelemetry(AS_PLANNED);
    const one = {
      ...source,
      tS: source.tS.slice(0, 1),
      channels: source.channels.map((each) => ({ ...each, values: each.values.slice(0, 1) })),
    };
    const empty = {
      ...source,
      channels: source.channels.map((each) => ({
        ...each,
        values: new Float64Array(each.values.length).fill(Number.NaN),
      })),
    };
    for (const each of [one, empty]) {
      const { reconstruction } = run(sessionOf([each], FLOWN_PLAN, [NEAR_RULE]));
      expect(reconstruction.contact).toBeNull();
      expect(reconstruction.phases).toEqual([]);
    }
  });
});
