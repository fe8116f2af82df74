import { describe, expect, test } from 'vitest';
import { reconstructionFile } from '@/lib/core/reconstruction/contract-file';
import { motionReachesContact } from '@/lib/core/reconstruction/reaches-contact';
import type { Rule } from '@/lib/core/session/rule';
import { expectWithin } from '../../support/expect-within';
import {
  channel,
  FLOWN_PLAN,
  flownSession,
  flownTelemetry,
  sessionOf,
} from '../../support/flown-session';
import { AS_PLANNED, entry, NEAR_RULE, run } from '../../support/planned-session';

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
