import { describe, expect, test } from 'vitest';
import { halfWidth95 } from '@/lib/core/figure';
import { reconstructionFile } from '@/lib/core/reconstruction/contract-file';
import type { Rule } from '@/lib/core/session/rule';
import { expectWithin } from '../../support/expect-within';
import { channel, type FlownOptions, flownSession } from '../../support/flown-session';
import {
  AS_PLANNED,
  entry,
  NEAR_RULE,
  NEVER_RULE,
  run,
  withTelemetry,
} from '../../support/planned-session';

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
