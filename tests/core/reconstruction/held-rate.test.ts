import { expect, test } from 'vitest';
import { halfWidth95 } from '@/lib/core/figure';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { TelemetrySource } from '@/lib/core/session/session-input';
import {
  axialMotion,
  FLOWN_PLAN,
  flownTelemetry,
  sessionOf,
  TEST_ENGINE,
} from '../../support/flown-session';
import { RATE_RULE } from '../../support/rate-rule';

/** Rows five times a second that repeat each velocity for a second. */
function held(source: TelemetrySource): TelemetrySource {
  const channels = source.channels.map((each) =>
    each.as.startsWith('velocity.')
      ? { ...each, values: each.values.map((_, row) => each.values[row - (row % 5)] ?? 0) }
      : each,
  );
  return { ...source, channels };
}

/** By hand: at rest, then at once at 0.2 m/s at `leavesS`; 0.1 m/s more for 1.8 s at `exceedsS`. */
function flown(leavesS: number, exceedsS: number) {
  const axial = axialMotion(100, [
    { forS: leavesS },
    { forS: exceedsS - leavesS, jumpMps: -0.2 },
    { forS: 1.8, jumpMps: -0.1 },
    { forS: 100, jumpMps: 0.1 },
  ]);
  const source = held(flownTelemetry({ axial, durationS: 220, seed: 5, velocityNoiseMps: 0.003 }));
  const rule = { ...RATE_RULE, limit: { kind: 'constant', value: 0.25 }, persistsS: 2 } as const;
  return reconstruct(sessionOf([source], FLOWN_PLAN, [rule]), TEST_ENGINE).reconstruction;
}

test('of a rate that rows repeat for a second, edges and verdicts are known to its updates', () => {
  for (const shareS of [0.1, 0.5, 0.9]) {
    const { phases, rules } = flown(60 + shareS, 130 + shareS);
    const edge = phases[1]?.startS;
    const off = Math.abs((edge?.value ?? Number.NaN) - (60 + shareS));
    expect(off).toBeLessThan((edge === undefined ? null : halfWidth95(edge)) ?? Number.NaN);
    expect(rules[0]?.verdict, 'lasts 1.8 s of the 2 s').not.toBe('broken');
  }
});
