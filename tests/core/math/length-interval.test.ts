import { expect, test } from 'vitest';
import { lengthHalf95, lengthScatter95 } from '@/lib/core/math/length-interval';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

test('the length of noise alone lies under the 95 % point of the Rayleigh distribution', () => {
  // Closed form: exp(-h2 / 2) = 0.05.
  expectWithin(
    lengthScatter95(0, 1, 1),
    Math.sqrt(-2 * Math.log(0.05)),
    2e-3,
    'sums over the noise',
  );
});

test('the length of a long vector has the 1.96 deviations of the noise along it', () => {
  expectWithin(lengthScatter95(200, 1, 1), 1.96, 3e-3, '1 / 400 for the noise across');
  expectWithin(lengthScatter95(200, 3, 1), 5.88, 5e-3, '1 / 400 for the noise across');
});

test('noise along alone is that of the size of a normal variable', () => {
  // From the normal distribution's table: at 0 both signs, 1.96; one deviation away P(-2 - h < e < h) = 0.95.
  expectWithin(lengthScatter95(0, 1, 0), 1.96, 1e-3, 'table');
  expectWithin(lengthScatter95(1, 1, 0), 1.6463, 1e-3, 'table: 1 - 0.04985 - 0.00013');
});

test('noise across alone can only make it longer', () => {
  // (truth + h)2 = truth2 + (1.96 across)2.
  expectWithin(
    lengthScatter95(1, 0, 1),
    Math.hypot(1, 1.96) - 1,
    0.05,
    'half a place of the noise',
  );
});

test('a length as short as that of noise may be nothing at all', () => {
  expectWithin(lengthHalf95(2.3, 1, 1), 2.3, 1e-3, 'down to 0');
  expectWithin(lengthHalf95(200, 3, 1), 5.88, 5e-3, '1 / 400 for the noise across');
});

/** By simulation: the share of intervals that hold the truth, of 4000 draws each, whose own chance is 0.0035. */
test('intervals hold the truth in 95 of 100, for a length of nothing as for a long one', () => {
  const random = seededRandom(5);
  const halves = new Map<number, number>();
  for (const truth of [0, 0.7, 1.5, 4]) {
    let inside = 0;
    for (let k = 0; k < 4000; k++) {
      const seen = Math.hypot(truth + gaussian(random), gaussian(random));
      // Halves of the next fifth: one takes some milliseconds.
      const fifths = Math.ceil(5 * seen);
      const half = halves.get(fifths) ?? lengthHalf95(fifths / 5, 1, 1);
      halves.set(fifths, half);
      if (Math.abs(seen - truth) <= half) inside++;
    }
    expect(inside / 4000, `${truth}`).toBeGreaterThan(0.935);
    expect(inside / 4000, `${truth}`).toBeLessThan(0.98);
  }
});

test('without noise there is no width, and what is not known stays so', () => {
  expect(lengthScatter95(5, 0, 0)).toBe(0);
  expect(lengthScatter95(Number.NaN, 1, 1)).toBeNaN();
});
