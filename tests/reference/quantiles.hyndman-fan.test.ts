import { expect, test } from 'vitest';
import { type QuantileType, quantile, quantileSorted } from '@/lib/core/math/quantiles';
import { expectWithin } from '../support/expect-within';

const TYPES: readonly QuantileType[] = [1, 2, 3, 4, 5, 6, 7, 8, 9];
const FIVE = [15, 20, 35, 40, 50];
const TEN = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];

/**
 * Source: R. J. Hyndman, Y. Fan, The American Statistician 50 (1996) 361; the first row is the
 * example held by NumPy's own tests (lib/tests/test_function_base.py), the others recomputed with
 * NumPy.
 */
const ROWS: readonly (readonly [name: string, data: number[], p: number, expected: number[]])[] = [
  ['five, p 0.40', FIVE, 0.4, [20, 27.5, 20, 20, 27.5, 26, 29, 27, 27.125]],
  ['five, p 0.25', FIVE, 0.25, [20, 20, 15, 16.25, 18.75, 17.5, 20, 18.3333, 18.4375]],
  ['five, p 0.95', FIVE, 0.95, [50, 50, 50, 47.5, 50, 50, 48, 50, 50]],
  ['ten, p 0.90', TEN, 0.9, [9, 9.5, 9, 9, 9.5, 9.9, 9.1, 9.63333, 9.6]],
  ['ten, p 0.95', TEN, 0.95, [10, 10, 10, 9.5, 10, 10, 9.55, 10, 10]],
];

test.each(ROWS)('%s: all nine types', (_name, data, p, expected) => {
  TYPES.forEach((type, i) => {
    const value = expected[i] ?? Number.NaN;
    const printed = Number.isInteger(value * 10000) ? 5e-5 : 5e-6;
    expectWithin(quantileSorted(data, p, type), value, printed, 'half the last printed digit');
  });
});

test('values in any order and cells without a value do not matter', () => {
  const shuffled = [40, Number.NaN, 15, 50, 20, 35];
  for (const type of TYPES) {
    expect(quantile(shuffled, 0.4, type)).toBe(quantileSorted(FIVE, 0.4, type));
  }
});

test('no values give no quantile', () => {
  expect(quantile([], 0.5, 7)).toBeNaN();
});
