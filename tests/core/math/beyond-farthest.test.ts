import { expect, test } from 'vitest';
import { beyondFarthest } from '@/lib/core/math/order-statistics';
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

/** Share of draws half as far again beyond sixty others of the same population. */
function alarms(draw: (uniform: number) => number, seed: number): number {
  const random = seededRandom(seed);
  const trials = 4_000;
  let count = 0;
  for (let trial = 0; trial < trials; trial++) {
    const runs = Float64Array.from({ length: 60 }, () => draw(random())).sort();
    if (beyondFarthest(draw(random()), runs) > 0.5) count++;
  }
  return count / trials;
}

test('draws of the same population seldom lie half as far again beyond sixty of it', () => {
  expect(alarms((u) => u, 1)).toBe(0);
  expect(alarms((u) => -Math.log(1 - u), 2)).toBeLessThan(0.006);
});
