/**
 * Source: S. S. Wilks, "Determination of sample sizes for setting tolerance limits", Annals of
 * Mathematical Statistics 12 (1941) 91: 59 runs for 95 % content with 95 % confidence on one side, 93 on
 * two sides; 852 runs for 99.73 % with 90 % on one side (the customary "3 sigma" of guidance studies).
 * Bounds of a median: the interval from the 2nd to the 9th of ten holds with 1 - 2 (1 + 10) / 1024 =
 * 97.85 %, that from the 3rd to the 8th with 89.06 % only (binomial sums by hand).
 */
import { expect, test } from 'vitest';
import {
  oneSidedChance,
  quantileInterval,
  rankAmong,
  runsNeeded,
} from '@/lib/core/math/order-statistics';

test('59, 93 and 852 runs are needed', () => {
  expect(runsNeeded(0.95, 0.95, 'one')).toBe(59);
  expect(runsNeeded(0.95, 0.95, 'two')).toBe(93);
  expect(runsNeeded(0.9973, 0.9, 'one')).toBe(852);
});

test('the median of ten lies between the 2nd and the 9th', () => {
  const ten = Float64Array.from({ length: 10 }, (_, i) => i + 1);
  expect(quantileInterval(ten, 0.5)).toEqual({ value: 5.5, low: 2, high: 9 });
});

test('71 runs put no upper bound on the 95th percentile, 72 do', () => {
  const runs = (count: number) => Float64Array.from({ length: count }, (_, i) => i);
  // 0.95^n <= 0.025 first at n = 72: ln 0.025 / ln 0.95 = 71.9.
  expect(quantileInterval(runs(71), 0.95).high).toBeNull();
  expect(quantileInterval(runs(72), 0.95).high).toBe(71);
});

test('beyond all N runs the chance is 1 / (N + 1), in the middle about one half', () => {
  const runs = Float64Array.from({ length: 99 }, (_, i) => i);
  expect(oneSidedChance(rankAmong(1e9, runs))).toBe(1 / 100);
  expect(oneSidedChance(rankAmong(-1, runs))).toBe(1 / 100);
  expect(oneSidedChance(rankAmong(49, runs))).toBeCloseTo(0.51, 12);
});

test('a run without the value does not count', () => {
  expect(rankAmong(2, [1, Number.NaN, 3, 2])).toEqual({ below: 1, above: 1, runs: 3 });
});
