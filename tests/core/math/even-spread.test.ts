import { expect, test } from 'vitest';
import { vanDerCorput } from '@/lib/core/math/even-spread';

/** Source: H. Niederreiter, "Random Number Generation and Quasi-Monte Carlo Methods" (1992), section 3.1; by hand from n = 1 on. */
test.each([
  [2, [1 / 2, 1 / 4, 3 / 4, 1 / 8, 5 / 8, 3 / 8, 7 / 8, 1 / 16]],
  [3, [1 / 3, 2 / 3, 1 / 9, 4 / 9, 7 / 9, 2 / 9]],
])('base %s: the first terms are those of the definition', (base, terms) => {
  terms.forEach((term, k) => {
    expect(vanDerCorput(k, base)).toBeCloseTo(term, 12);
  });
});
