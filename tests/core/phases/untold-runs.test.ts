import { expect, test } from 'vitest';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import {
  axialMotion,
  FLOWN_PLAN,
  flownTelemetry,
  gaussian,
  moveParts,
  sessionOf,
  TEST_ENGINE,
} from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const HOLD_S = 130;
const MOVE = moveParts(0.4, 70, 0);
const FLIGHT = {
  axial: axialMotion(200, [...MOVE, { forS: HOLD_S }, ...MOVE]),
  durationS: 2 * (70 / 0.4 + 40) + HOLD_S,
  stepS: 2,
  measuresVelocity: 'no',
  positionNoise: 0,
} as const;

/** Positions with noise that hangs together for 20 s, every other second. */
function motionsOf(seed: number, slowSdM: number): string {
  const telemetry = flownTelemetry({ ...FLIGHT, seed });
  const random = seededRandom(1000 + seed);
  const keep = Math.exp(-FLIGHT.stepS / 20);
  const channels = telemetry.channels.map((each) => {
    let slowM = slowSdM * gaussian(random);
    const values = each.values.map((value) => {
      slowM = keep * slowM + slowSdM * Math.sqrt(1 - keep * keep) * gaussian(random);
      return value + slowM;
    });
    return { ...each, values };
  });
  const input = sessionOf([{ ...telemetry, channels }], { ...FLOWN_PLAN, holdRateMps: 0.01 });
  const { phases } = reconstruct(input, TEST_ENGINE).reconstruction;
  return phases.map(({ motion }) => motion).join(' ');
}

test('a hold between moves stays one where noise hides that it is under the hold rate', () => {
  for (const seed of [1, 3]) {
    expect(motionsOf(seed, 0.2)).toBe('closing hold closing');
  }
});
