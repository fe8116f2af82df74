import { expect, test } from 'vitest';
import { beyondFarthest, farAgain } from '@/lib/core/math/order-statistics';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

test('the way beyond counts from the median in the way to the farthest run', () => {
  const runs = [0, 1, 2, 3, 4];
  expect(beyondFarthest(5, runs)).toBe(0.5);
  expect(beyondFarthest(-2, runs)).toBe(1);
  expect(beyondFarthest(3.5, runs)).toBe(-0.25);
  expect(beyondFarthest(2, [2, 2])).toBe(0);
  expect(beyondFarthest(3, [2, 2])).toBe(Number.POSITIVE_INFINITY);
  expect(beyondFarthest(3, [])).toBeNaN();
});

/** Two uniform numbers, one after the other. */
function inTurn(...numbers: readonly number[]): () => number {
  let next = 0;
  return () => numbers[next++] ?? Number.NaN;
}

/** Share of draws that would stand out beyond so many others of the same population. */
function alarms(
  draw: (uniform: number) => number,
  size: number,
  of: 'number' | 'axis' = 'number',
): number {
  const random = seededRandom(size);
  const trials = 3_000;
  let count = 0;
  for (let trial = 0; trial < trials; trial++) {
    const runs = Float64Array.from({ length: size }, () => draw(random())).sort();
    if (beyondFarthest(draw(random()), runs) > farAgain(size, of)) count++;
  }
  return count / trials;
}

test.each([
  [20, 0.008],
  [60, 0.005],
  [200, 0.003],
])('draws of one population seldom stand out beyond %d of it', (size, most) => {
  expect(alarms((u) => u, size)).toBe(0);
  expect(alarms((u) => -Math.log(1 - u), size)).toBeLessThan(most);
});

/**
 * Deviations vary by factors: log-normal, here by a third, or with the longer tail of the log-logistic of the
 * same deviation (pi / sqrt 3 is that of the logistic, elementary). Six axes have six times the chance.
 */
test.each([
  [20, 0.06, 0.09],
  [60, 0.04, 0.06],
  [200, 0.03, 0.05],
])('of six axes of a usual flight seldom one lies far beyond %d runs', (size, most, longTail) => {
  const spare = seededRandom(7);
  const bell = (u: number) => Math.exp(0.33 * gaussian(inTurn(u, spare())));
  expect(6 * alarms(bell, size, 'axis')).toBeLessThan(most);
  const logistic = (u: number) => Math.exp((0.33 * Math.log(u / (1 - u)) * Math.sqrt(3)) / Math.PI);
  expect(6 * alarms(logistic, size, 'axis')).toBeLessThan(longTail);
});
