import { expect, test } from 'vitest';
import { findBareSteps } from '@/lib/core/navigation/bare-steps';
import { takeSamples } from '@/lib/core/series/samples';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const ROWS = 1000;
const STEP_S = 0.2;
const NOISE_M = 0.05;
const MIDDLE_S = (ROWS / 2 - 0.5) * STEP_S;
const MOBILITY = { accelerationMps2: 0.01 };

/** A position that closes at 0.2 m/s and whose noise follows from the seed, with something added. */
function position(added: (atS: number) => number, noiseM = NOISE_M, seed = 5) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: ROWS }, (_, i) => i * STEP_S);
  const values = tS.map((atS) => 100 - 0.2 * atS + added(atS) + noiseM * gaussian(random));
  return takeSamples(tS, values, null);
}

const find = (samples: ReturnType<typeof position>, mobility = MOBILITY) =>
  findBareSteps(samples, [{ from: 0, to: samples.tS.length }], mobility);

const stepAt = (atS: number, sizeM: number) => (whenS: number) => (whenS < atS ? 0 : sizeM);

/** The way of a rate of so much over so long from the middle on, reached and left at an acceleration. */
function excursion(heightMps: number, flatS: number, accelMps2: number) {
  const rampS = heightMps / accelMps2;
  const ramp = (forS: number) => 0.5 * accelMps2 * Math.max(0, forS) ** 2;
  return (atS: number): number => {
    const t = atS - MIDDLE_S;
    return ramp(t) - ramp(t - rampS) - ramp(t - rampS - flatS) + ramp(t - 2 * rampS - flatS);
  };
}

test('a step of ten times the noise is found between its two samples, whichever way', () => {
  for (const sizeM of [0.5, -0.5]) {
    for (const seed of [1, 2, 3, 4, 5, 6]) {
      const [step, ...more] = find(position(stepAt(MIDDLE_S, sizeM), NOISE_M, seed));
      expect(more).toEqual([]);
      expect(step?.beforeS).toBeLessThan(MIDDLE_S);
      expect(step?.atS).toBeGreaterThan(MIDDLE_S);
    }
  }
});

test('noise by itself, an excursion of the rate, a manoeuvre and a wild value are no steps', () => {
  const none: readonly ((atS: number) => number)[] = [
    () => 0,
    // 0.5 m by motion: at once, with the plan's acceleration, and with ten times as much.
    (atS) => 0.25 * Math.min(2, Math.max(0, atS - MIDDLE_S)),
    excursion(0.05, 5, 0.01),
    excursion(0.2, 0.5, 0.1),
    // Stopped at once, as by the port; and by a jet.
    (atS) => 0.2 * Math.max(0, atS - MIDDLE_S),
    (atS) => 0.005 * Math.max(0, atS - MIDDLE_S) ** 2,
    (atS) => (Math.abs(atS - MIDDLE_S) < 0.15 ? 5 : 0),
  ];
  for (const added of none) {
    for (const seed of [1, 2, 3]) expect(find(position(added, NOISE_M, seed))).toEqual([]);
    expect(find(position(added, 0))).toEqual([]);
  }
});

test('a step in the middle of an acceleration is found; one that motion could make in an interval is none', () => {
  const braking = (atS: number) => 0.005 * (atS - MIDDLE_S) ** 2 + stepAt(MIDDLE_S, 0.5)(atS);
  expect(find(position(braking))).toHaveLength(1);
  // 60 m/s2 from rest to rest makes 0.6 m within 0.2 s.
  expect(find(position(braking, 0.01), { accelerationMps2: 6 })).toEqual([]);
});

test('steps far apart are each found; one at the very end of the samples is not told', () => {
  const two = (atS: number) => stepAt(50.1, 0.5)(atS) + stepAt(150.1, -0.4)(atS);
  expect(find(position(two)).map(({ atS }) => atS.toFixed(1))).toEqual(['50.2', '150.2']);
  expect(find(position(stepAt(ROWS * STEP_S - 0.5, 0.5)))).toEqual([]);
});

test('at 1 Hz nine in ten steps of ten times the noise are found where the plan accelerates fast', () => {
  const tS = Float64Array.from({ length: 240 }, (_, i) => i);
  const found = Array.from({ length: 40 }, (_, seed) => {
    const random = seededRandom(seed + 1);
    const values = tS.map(
      (atS) => 100 - 0.2 * atS + stepAt(119.5, 0.5)(atS) + 0.05 * gaussian(random),
    );
    const steps = find(takeSamples(tS, values, null), { accelerationMps2: 0.04 });
    return steps.length === 1 && steps[0]?.atS === 120;
  });
  // A sample that chance puts half way of the step makes it a way of two seconds: that is left undecided.
  expect(found.filter(Boolean).length).toBeGreaterThanOrEqual(36);
});
