import { expect, test } from 'vitest';
import { lengthHalf95 } from '@/lib/core/math/length-interval';
import { expectWithin } from '../../support/expect-within';

test('the length of noise alone lies under the 95 % point of the Rayleigh distribution', () => {
  // Closed form: exp(-h2 / 2) = 0.05.
  expectWithin(lengthHalf95(0, 1, 1), Math.sqrt(-2 * Math.log(0.05)), 2e-3, 'sums over the noise');
});

test('the length of a long vector has the 1.96 deviations of the noise along it', () => {
  expectWithin(lengthHalf95(200, 1, 1), 1.96, 3e-3, '1 / 400 for the noise across');
  expectWithin(lengthHalf95(200, 3, 1), 5.88, 5e-3, '1 / 400 for the noise across');
});

test('noise along alone is that of the size of a normal variable', () => {
  // From the normal distribution's table: at 0 both signs, 1.96; one deviation away P(-2 - h < e < h) = 0.95.
  expectWithin(lengthHalf95(0, 1, 0), 1.96, 1e-3, 'table');
  expectWithin(lengthHalf95(1, 1, 0), 1.6463, 1e-3, 'table: 1 - 0.04985 - 0.00013');
});

test('noise across alone can only make it longer', () => {
  // (truth + h)2 = truth2 + (1.96 across)2.
  expectWithin(lengthHalf95(1, 0, 1), Math.hypot(1, 1.96) - 1, 0.02, 'places of the noise');
});

test('without noise there is no width, and what is not known stays so', () => {
  expect(lengthHalf95(5, 0, 0)).toBe(0);
  expect(lengthHalf95(Number.NaN, 1, 1)).toBeNaN();
});
