import { expect, test } from 'vitest';
import { stepAttitude } from '@/seed/attitude';
import { pulse, TRANSLATION_X } from '@/seed/jets';
import { makeRandom } from '@/seed/random';

test('a jet stays shut under half a minimum pulse, else opens at least that long and at most the step', () => {
  const least = TRANSLATION_X.accel * TRANSLATION_X.minimumOnS;
  expect(pulse(TRANSLATION_X, 0.49 * least, 0.1)).toBe(0);
  expect(pulse(TRANSLATION_X, 0.51 * least, 0.1)).toBe(TRANSLATION_X.minimumOnS);
  expect(pulse(TRANSLATION_X, -0.51 * least, 0.1)).toBe(-TRANSLATION_X.minimumOnS);
  expect(pulse(TRANSLATION_X, 1, 0.1)).toBe(0.1);
});

test('attitude coasts between both edges of its dead band and is turned round at each', () => {
  const random = makeRandom(7);
  let axis = { errorDeg: 0, rateDps: 0.01 };
  let pulses = 0;
  let [lowest, highest] = [0, 0];
  const steps = 6000;
  for (let count = 0; count < steps; count += 1) {
    const result = stepAttitude(
      axis,
      { deadBandDeg: 0.5, disturbanceDps2: 0, couplingDps2: 0, stepS: 0.1 },
      random,
    );
    axis = result.axis;
    if (result.onS > 0) pulses += 1;
    lowest = Math.min(lowest, axis.errorDeg);
    highest = Math.max(highest, axis.errorDeg);
  }
  expect(lowest).toBeGreaterThan(-0.52);
  expect(lowest).toBeLessThan(-0.45);
  expect(highest).toBeLessThan(0.52);
  expect(highest).toBeGreaterThan(0.45);
  // 600 s at about 0.012 deg/s across 0.96 deg: some 7.5 turns.
  expect(pulses).toBeGreaterThan(4);
  expect(pulses).toBeLessThan(14);
});

test('the same seed gives the same numbers, with mean 0 and variance 1', () => {
  const [first, second] = [makeRandom(42), makeRandom(42)];
  let [sum, squares] = [0, 0];
  const count = 20_000;
  for (let index = 0; index < count; index += 1) {
    const value = first.normal();
    expect(second.normal()).toBe(value);
    sum += value;
    squares += value * value;
  }
  expect(Math.abs(sum / count)).toBeLessThan(0.03);
  expect(Math.abs(squares / count - 1)).toBeLessThan(0.05);
});
