import { expect, test } from 'vitest';
import { savitzkyGolay, savitzkyGolayWeights } from '@/lib/core/math/savitzky-golay';
import { expectWithin } from '../support/expect-within';

/**
 * Source: A. Savitzky, M. J. E. Golay, Analytical Chemistry 36 (1964) 1627, the 5-point quadratic; the
 * other fractions recomputed with SciPy (the printed tables have errata).
 */
const FRACTIONS: readonly (readonly [
  window: number,
  degree: number,
  derivative: number,
  over: number,
  numerators: readonly number[],
])[] = [
  [5, 2, 0, 35, [-3, 12, 17, 12, -3]],
  [7, 2, 0, 21, [-2, 3, 6, 7, 6, 3, -2]],
  [9, 2, 0, 231, [-21, 14, 39, 54, 59, 54, 39, 14, -21]],
  [7, 4, 0, 231, [5, -30, 75, 131, 75, -30, 5]],
  [5, 2, 1, 10, [-2, -1, 0, 1, 2]],
  [7, 2, 1, 28, [-3, -2, -1, 0, 1, 2, 3]],
  [5, 3, 1, 12, [1, -8, 0, 8, -1]],
  [7, 3, 1, 252, [22, -67, -58, 0, 58, 67, -22]],
  [5, 2, 2, 7, [2, -1, -2, -1, 2]],
  [7, 2, 2, 42, [5, 0, -3, -4, -3, 0, 5]],
];

test.each(FRACTIONS)('%i points, degree %i, derivative %i: weights over %i', (...row) => {
  const [window, degree, derivative, over, numerators] = row;
  const weights = savitzkyGolayWeights(window, degree, derivative, (window - 1) / 2);
  expect(weights).toHaveLength(numerators.length);
  numerators.forEach((numerator, i) => {
    expectWithin(weights[i], numerator / over, 1e-13, 'exact fraction in doubles');
  });
});

/** Source: SciPy, docstring of scipy.signal.savgol_filter (mode interp), recomputed. */
test('the documented column of nine with edges by interpolation', () => {
  const values = Float64Array.from([2, 2, 5, 2, 1, 0, 1, 4, 9]);
  const smooth = savitzkyGolay(values, { window: 5, degree: 2, derivative: 0, stepS: 1 });
  const expected = [
    1.65714286, 3.17142857, 3.54285714, 2.85714286, 0.65714286, 0.17142857, 1, 4, 9,
  ];
  expected.forEach((value, i) => {
    expectWithin(smooth[i], value, 5e-9, 'half the last printed digit');
  });
});

/** Source: SciPy, test_savitzky_golay.py, test_sg_coeffs_exact: a cubic is kept by degree 4. */
test('a polynomial up to the degree passes unchanged, and so does its slope', () => {
  const values = Float64Array.from({ length: 25 }, (_, i) => 0.5 * i ** 3 - i);
  const options = { window: 9, degree: 4, stepS: 1 };
  const same = savitzkyGolay(values, { ...options, derivative: 0 });
  const slope = savitzkyGolay(values, { ...options, derivative: 1 });
  for (let i = 0; i < 25; i++) {
    expectWithin(same[i], 0.5 * i ** 3 - i, 1e-8, 'rounding at 7000');
    expectWithin(slope[i], 1.5 * i ** 2 - 1, 1e-8, 'rounding at 900');
  }
});
