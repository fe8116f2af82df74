import { expect, test } from 'vitest';
import { VELOCITY_HALF_SPAN_S } from '@/lib/core/motion/estimate-component';
import { estimateMotion } from '@/lib/core/motion/estimate-motion';
import { rateDeviation } from '@/lib/core/phases/rate-deviation';
import { takeSamples } from '@/lib/core/series/samples';
import { smoothSamples } from '@/lib/core/series/smooth';
import type { MoveStep } from '@/lib/core/session/plan';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const PLANNED_MPS = 0.1;
const STEP: MoveStep = {
  kind: 'move',
  id: 'final',
  toM: 0,
  plannedS: 200,
  closingRateMps: [
    [0, PLANNED_MPS],
    [100, PLANNED_MPS],
  ],
  toleranceMps: 0.02,
};

const ROWS = 600;
const STEP_S = 0.5;
const TIMES_S = Float64Array.from({ length: ROWS }, (_, k) => k * STEP_S);

const noisy = (mean: (atS: number) => number, sd: number, random: () => number) =>
  TIMES_S.map((atS) => mean(atS) + sd * gaussian(random));

/** A flight at the planned rate, by range and range rate: what follows differs in its rates alone. */
function flown() {
  const random = seededRandom(3);
  const column = (name: string, values: Float64Array) =>
    [name, { name, values, rejected: null }] as const;
  const range = noisy((atS) => 40 - PLANNED_MPS * atS, 0.02, random);
  const rate = noisy(() => -PLANNED_MPS, 0.003, random);
  const motion = estimateMotion({
    tS: TIMES_S,
    columns: new Map([column('range', range), column('range_rate', rate)]),
    longestStepS: 2,
    stepS: STEP_S,
    holdRateMps: 0.02,
    accelerationMps2: 0.01,
  });
  if (motion === null) throw new Error('a range was measured');
  return motion;
}

const SPAN = {
  fromS: 0,
  toS: ROWS * STEP_S,
  rangeStartM: 40,
  rangeEndM: 0,
  startHalfS: 0,
  endHalfS: 0,
  accelerationMps2: 0.01,
};

test.each([0, 0.0006])(
  'flights that stray by %d m/s: intervals hold it as they say',
  (strayMps) => {
    const motion = flown();
    const count = 200;
    let inside = 0;
    for (let seed = 1; seed <= count; seed++) {
      const rates = noisy(() => PLANNED_MPS + strayMps, 0.003, seededRandom(seed));
      const lines = smoothSamples(takeSamples(TIMES_S, rates, null), TIMES_S, {
        halfSpanS: VELOCITY_HALF_SPAN_S,
        gapS: 2,
        jumpThreshold: 6.5,
      });
      const changed = { ...motion, closingMps: lines.value, closingSdMps: lines.sd };
      const rms = rateDeviation(changed, STEP, SPAN)?.rmsMps ?? { value: Number.NaN, half: 0 };
      if (Math.abs(rms.value - strayMps) <= rms.half + 1e-12) inside++;
    }
    // Three standard deviations of 200 draws at 0.95 are 9.
    expect(inside).toBeGreaterThanOrEqual(0.95 * count - 9);
  },
);

test('a derived rate that was off throughout has a root mean square no smaller than its mean', () => {
  const random = seededRandom(11);
  const range = noisy((atS) => 40 - 0.08 * atS, 0.03, random);
  const motion = estimateMotion({
    tS: TIMES_S,
    columns: new Map([['range', { name: 'range', values: range, rejected: null }]]),
    longestStepS: 2,
    stepS: STEP_S,
    holdRateMps: 0.02,
    accelerationMps2: 0.01,
  });
  if (motion === null) throw new Error('a range was measured');
  const found = rateDeviation(motion, STEP, { ...SPAN, rangeEndM: 16 });
  const [mean, rms] = [found?.meanMps.value ?? Number.NaN, found?.rmsMps.value ?? Number.NaN];
  expect(mean).toBeCloseTo(-0.02, 3);
  expect(rms).toBeCloseTo(0.02, 3);
  expect(rms).toBeGreaterThanOrEqual(Math.abs(mean));
});
