import { expect, test } from 'vitest';
import { mixtureHalfWidth, mixtureMedian, normalTail } from '@/lib/core/math/normal-mixture';
import { NORMAL_95 } from '@/lib/core/math/statistics';

/** Source: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), Table 26.1: P(x). */
test.each([
  [0, 0.5],
  [0.5, 0.6914624613],
  [1, 0.8413447461],
  [2, 0.9772498681],
  [3, 0.998650102],
])('P(%s) is the tabulated one', (z, tabulated) => {
  expect(Math.abs(1 - normalTail(z) - tabulated)).toBeLessThan(1.5e-7);
  expect(normalTail(-z)).toBeCloseTo(1 - normalTail(z), 8);
});

test('one law alone gives its own 95 % half-width', () => {
  expect(mixtureHalfWidth([{ weight: 1, apart: 0, sd: 2 }])).toBeCloseTo(2 * NORMAL_95, 4);
});

test('two equal laws far apart: the half-width holds nine tenths of the farther one', () => {
  // By hand: of the near one nothing is outside, so a tenth of the far one may be: P(x) = 0.9 at
  // 1.28155 (Abramowitz and Stegun, Table 26.5).
  const half = mixtureHalfWidth([
    { weight: 0.5, apart: 0, sd: 1 },
    { weight: 0.5, apart: -100, sd: 1 },
  ]);
  expect(half).toBeCloseTo(101.28155, 4);
});

test('the middle of two laws far apart lies in the heavier one', () => {
  // By hand: 0.3 lies below, so 0.2 of the 0.7 are needed: P(x) = 2/7 at -0.56595 (SciPy 1.17, norm.ppf).
  const parts = [
    { weight: 0.3, apart: -10, sd: 1 },
    { weight: 0.7, apart: 10, sd: 1 },
  ];
  expect(mixtureMedian(parts)).toBeCloseTo(10 - 0.56595, 4);
  // Of a law without spread the middle is where it lies.
  expect(mixtureMedian([{ weight: 1, apart: 3, sd: 0 }])).toBeCloseTo(3, 6);
});
