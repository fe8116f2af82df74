import { expect, test } from 'vitest';
import { endCourses, endState } from '@/lib/core/math/end-state';
import { NORMAL_95 } from '@/lib/core/math/statistics';
import type { NoisySeries } from '@/lib/core/math/sway-filter';
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

/** At the last value; no steady rate is supposed. */
function ended(series: NoisySeries, steadyShare = 0) {
  const courses = endCourses(series, steadyShare);
  return courses === null ? null : endState(courses);
}

test('of a steady rate it is nearly as good as least squares through all values', () => {
  // Least squares: sd of the slope of n even values = sd sqrt(12 / (n (n2 - 1))), 0.00023 here (elementary).
  const least = 0.03 * Math.sqrt(12 / (58 * (58 * 58 - 1)));
  let square = 0;
  for (let seed = 0; seed < 60; seed++) {
    const rate = ended(seen((s) => 5 - 0.07 * s, seed))?.rate;
    square += ((rate ?? Number.NaN) + 0.07) ** 2 / 60;
  }
  expect(Math.sqrt(square)).toBeLessThan(2 * least);
});

test('the intervals of level and rate of a swing hold the truth in 92 % of 100', () => {
  let [level, rate] = [0, 0];
  for (let seed = 0; seed < 100; seed++) {
    const phase = seed / 7;
    const found = ended(seen((s) => 0.1 * Math.sin(0.08 * s + phase), seed));
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
  expect(ended(exact)?.rate).toBeCloseTo(0.5, 5);
  expect(ended(exact)?.level).toBeCloseTo(2, 5);
  expect(ended(seen((s) => s, 1, 1e-6, 3))).toBeNull();
});

test('a steady rate is told as much better as its values are quieter', () => {
  // Model and noise have no length of their own: with a hundredth of the noise all is a hundredth as large (elementary).
  const half = (sd: number): number => {
    const halves = Array.from(
      { length: 9 },
      (_, seed) => ended(seen((s) => 5 - 0.07 * s, seed, sd))?.rateHalf ?? Number.NaN,
    );
    return halves.sort((a, b) => a - b)[4] ?? Number.NaN;
  };
  expect(half(0.0003)).toBeLessThan(half(0.03) / 50);
});

/** Half-widths and errors of the rate at the end over some seeds, the truth given by each. */
function rates(
  count: number,
  take: (seed: number) => readonly [NoisySeries, rate: number],
  steadyShare: number,
) {
  const found = Array.from({ length: count }, (_, seed) => {
    const [series, rate] = take(seed);
    const at = ended(series, steadyShare);
    return { half: at?.rateHalf ?? Number.NaN, error: Math.abs((at?.rate ?? Number.NaN) - rate) };
  });
  const halves = found.map(({ half }) => half).sort((a, b) => a - b);
  const held = found.filter(({ half, error }) => error <= half).length / count;
  return { half: halves[count >> 1] ?? Number.NaN, held };
}

test('a rate that is steady as likely as not is told to 2.5 times what a line through 150 s tells', () => {
  // Elementary, as above: 1.96 sd (12 / (n (n2 - 1)))1/2. Values before say that it does not wander, and not that no jet has
  // ended among the last; without such a share it is 5 times.
  const best = NORMAL_95 * 0.03 * Math.sqrt(12 / (150 * (150 * 150 - 1)));
  const steady = (seed: number) => [seen((s) => 5 - 0.07 * s, seed, 0.03, 300), -0.07] as const;
  const found = rates(25, steady, 0.5);
  expect(found.half).toBeLessThan(2.5 * best);
  expect(found.held).toBeGreaterThanOrEqual(0.92);
});

test('a sway that goes on is told as such, better than as a rate that wanders', () => {
  const w = (2 * Math.PI) / 90;
  const swaying = (seed: number) => {
    const at = (s: number): number => 0.04 * Math.sin(w * s + seed);
    return [seen(at, seed, 0.02, 300), 0.04 * w * Math.cos(seed)] as const;
  };
  const found = rates(25, swaying, 0);
  // A random walk of the rate alone leaves 2.8 mm/s of the same 300 s, and 4.5 of 150 (measured).
  expect(found.half).toBeLessThan(0.0026);
  expect(found.held).toBeGreaterThanOrEqual(0.92);
  expect(rates(25, swaying, 0.5).held).toBeGreaterThanOrEqual(0.92);
});

// By the docstring: they are one mean, and one value tells no rate.
test('values of a quarter second tell no rate, however many', () => {
  const tS = Float64Array.from([0, 0.05, 0.1, 0.15, 0.2]);
  const column = (value: number) => tS.map(() => value);
  const values = column(5);
  const series = { tS, values, white: column(1e-4), slow: column(0), slowS: 1 };
  expect(endCourses(series, 0.5)).toBeNull();
});
