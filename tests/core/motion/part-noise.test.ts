/**
 * A velocity in other axes than its position is no noise of the axes beside it.
 *
 * Source: A. E. Roy, "Orbital Motion", 4th ed. (2005), section 2: v = dr/dt + omega x r, so an inertial velocity
 * across the axis differs by n times the distance along it; n = 2 pi / 5560 s here.
 */
import { expect, test } from 'vitest';
import { halfWidth95 } from '@/lib/core/figure';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { TelemetrySource } from '@/lib/core/session/session-input';
import { expectWithin } from '../../support/expect-within';
import {
  FLOWN_PLAN,
  flownTelemetry,
  plannedArrival,
  sessionOf,
  TEST_ENGINE,
} from '../../support/flown-session';

const N_RADPS = (2 * Math.PI) / 5560;
const source = flownTelemetry({ axial: plannedArrival(), durationS: 2000 });

/** The same flight with the velocity along y in axes that do not turn. */
function inertialAcross({ channels, ...rest }: TelemetrySource): TelemetrySource {
  const x = channels.find(({ as }) => as === 'position.x')?.values ?? new Float64Array();
  return {
    ...rest,
    channels: channels.map((each) =>
      each.as === 'velocity.y'
        ? { ...each, values: each.values.map((mps, row) => mps + N_RADPS * (x[row] ?? 0)) }
        : each,
    ),
  };
}

const run = (flown: TelemetrySource) =>
  reconstruct(sessionOf([flown], FLOWN_PLAN), TEST_ENGINE).reconstruction;

test('edges, rates and contact along the axis are as sure as without a mismatch across it', () => {
  const plain = run(source);
  const mixed = run(inertialAcross(source));
  expect(mixed.navigation?.turning.map(({ axis }) => axis)).toEqual(['y']);
  for (const [index, phase] of plain.phases.entries()) {
    const other = mixed.phases[index];
    for (const name of ['startS', 'meanClosingRateMps', 'peakClosingRateMps'] as const) {
      const half = halfWidth95(phase[name]);
      const otherHalf = other === undefined ? null : halfWidth95(other[name]);
      if (half === null || otherHalf === null) continue;
      expect(otherHalf, `${phase.step}, ${name}`).toBeLessThan(1.5 * half + 1e-9);
      expectWithin(
        other?.[name].value,
        phase[name].value ?? Number.NaN,
        2 * half + 1e-9,
        'own interval',
      );
    }
  }
  const closing = mixed.contact?.conditions.closing_rate;
  expect(closing === undefined ? Number.NaN : halfWidth95(closing)).toBeLessThan(0.005);
  // What is wrong stays unsure: the rate across is off by n times the distance, and its interval says so.
  const lateral = mixed.contact?.conditions.lateral_rate;
  expect(lateral === undefined ? Number.NaN : halfWidth95(lateral)).toBeGreaterThan(0.02);
});
