import { expect, test } from 'vitest';
import { beyondFarthest, farAgain } from '@/lib/core/math/order-statistics';
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

/** Share of draws that would stand out beyond so many others of the same population. */
function alarms(draw: (uniform: number) => number, size: number): number {
  const random = seededRandom(size);
  const trials = 3_000;
  let count = 0;
  for (let trial = 0; trial < trials; trial++) {
    const runs = Float64Array.from({ length: size }, () => draw(random())).sort();
    if (beyondFarthest(draw(random()), runs) > farAgain(size)) count++;
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
