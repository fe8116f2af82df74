import { expect, test } from 'vitest';
import { endState } from '@/lib/core/math/end-state';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/** Values a second apart, with white noise of 0.03; the last at 0 s. */
function seen(at: (s: number) => number, seed: number, sd = 0.03, count = 58) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: count }, (_, index) => index + 1 - count);
  return {
    tS,
    values: tS.map((s) => at(s) + sd * gaussian(random)),
    white: new Float64Array(count).fill(sd * sd),
    slow: new Float64Array(count),
    slowS: 1,
  };
}

test('of a steady rate it is nearly as good as least squares through all values', () => {
  // Least squares: sd of the slope of n even values = sd sqrt(12 / (n (n2 - 1))), 0.00023 here (elementary).
  const least = 0.03 * Math.sqrt(12 / (58 * (58 * 58 - 1)));
  let square = 0;
  for (let seed = 0; seed < 60; seed++) {
    const rate = endState(
      seen((s) => 5 - 0.07 * s, seed),
      0,
    )?.rate;
    square += ((rate ?? Number.NaN) + 0.07) ** 2 / 60;
  }
  expect(Math.sqrt(square)).toBeLessThan(2 * least);
});

test('the intervals of level and rate of a swing hold the truth in 92 % of 100', () => {
  let [level, rate] = [0, 0];
  for (let seed = 0; seed < 100; seed++) {
    const phase = seed / 7;
    const found = endState(
      seen((s) => 0.1 * Math.sin(0.08 * s + phase), seed),
      0,
    );
    if (found === null) continue;
    const truth = [0.1 * Math.sin(phase), 0.008 * Math.cos(phase)] as const;
    if (Math.abs(found.level - truth[0]) < found.levelHalf) level++;
    if (Math.abs(found.rate - truth[1]) < found.rateHalf) rate++;
  }
  expect(level).toBeGreaterThanOrEqual(92);
  expect(rate).toBeGreaterThanOrEqual(92);
});

test('values without noise give their line, three give nothing', () => {
  const exact = seen((s) => 2 + 0.5 * s, 1, 1e-6);
  expect(endState(exact, 0)?.rate).toBeCloseTo(0.5, 5);
  expect(endState(exact, 0)?.level).toBeCloseTo(2, 5);
  expect(endState(exact, 55)).toBeNull();
});

test('a steady rate is told as much better as its values are quieter', () => {
  // Model and noise have no length of their own: with a hundredth of the noise all is a hundredth as large (elementary).
  const half = (sd: number): number => {
    const halves = Array.from(
      { length: 9 },
      (_, seed) =>
        endState(
          seen((s) => 5 - 0.07 * s, seed, sd),
          0,
        )?.rateHalf ?? Number.NaN,
    );
    return halves.sort((a, b) => a - b)[4] ?? Number.NaN;
  };
  expect(half(0.0003)).toBeLessThan(half(0.03) / 50);
});
