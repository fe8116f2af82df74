import { expect, test } from 'vitest';
import { type Figure, halfWidth95 } from '@/lib/core/figure';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import {
  axialMotion,
  flownSession,
  flownTelemetry,
  moveParts,
  TEST_ENGINE,
} from '../../support/flown-session';

const FLIGHT = {
  axial: axialMotion(100, [...moveParts(0.2, 20, 60), { forS: 400 }]),
  durationS: 600,
  positionNoise: 0.0004,
  stepS: 0.4,
};
const STEP_S = 200;

/** The flight with 0.4 m more before a moment in the last hold, and none after it. */
function stepped(seed: number, measuresVelocity: 'yes' | 'no' = 'yes') {
  const source = flownTelemetry({ ...FLIGHT, seed, measuresVelocity });
  const channels = source.channels.map((each) =>
    each.as === 'position.x'
      ? {
          ...each,
          values: each.values.map((m, row) => m + ((source.tS[row] ?? 0) < STEP_S ? 0.4 : 0)),
        }
      : each,
  );
  const input = { ...flownSession(FLIGHT), sources: [{ ...source, channels }] };
  return reconstruct(input, TEST_ENGINE).reconstruction;
}

/**
 * By simulation, of which the truth is known: 95 % of intervals hold it, so that of 10 seeds 8 to 10 do
 * (binomial, 1.2 % below).
 */
test('ranges moved by a step carry the error of its size, over 10 seeds', () => {
  let inside = 0;
  let halfSum = 0;
  for (let seed = 1; seed <= 10; seed++) {
    const { phases, dataQuality } = stepped(seed);
    expect(dataQuality.map(({ kind }) => kind)).toEqual(['step']);
    const range = phases[0]?.rangeStartM;
    const half = range === undefined ? 0 : (halfWidth95(range) ?? 0);
    if (Math.abs((range?.value ?? Number.NaN) - 100) <= half) inside++;
    halfSum += half;
  }
  expect(inside).toBeGreaterThanOrEqual(8);
  // Noise of 0.042 m, two lines over 20 s of 50 samples, each carried to its end.
  expect(halfSum / 10).toBeLessThan(1.5 * 0.042 * Math.sqrt(8 / 50) * 1.96);
});

test('what both ends of a run share is not in its mean rate, and nothing after the step is touched', () => {
  const { phases } = stepped(3);
  const half = (figure: Figure | undefined) =>
    (figure === undefined ? null : halfWidth95(figure)) ?? Number.NaN;
  const [hold] = phases;
  const start = half(hold?.rangeStartM);
  // Were both ends apart by the step's error, each half-width would count over the 62 s.
  expect(half(hold?.meanClosingRateMps)).toBeLessThan((0.7 * start * Math.SQRT2) / 62);
  expect(half(phases.at(-1)?.rangeEndM)).toBeLessThan(0.7 * start);
});
