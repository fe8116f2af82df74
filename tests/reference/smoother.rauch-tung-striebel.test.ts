import { test } from 'vitest';
import { smoothRandomWalk } from '@/lib/core/math/random-walk-smoother';
import { expectWithin } from '../support/expect-within';

/**
 * Source: closed scalar case of H. E. Rauch, F. Tung, C. T. Striebel, AIAA J. 3 (1965) 1445: a random
 * walk with q = r = 1, prior 0 with variance 1, seen 1, 2, 3. Recomputed two independent ways (the
 * recursion; conditioning of a Gaussian vector with C_ij = min(i, j) + 1).
 */
test('three steps of a random walk: filtered and smoothed exactly', () => {
  const level = smoothRandomWalk({
    seen: Float64Array.from([1, 2, 3]),
    noise: Float64Array.from([1, 1, 1]),
    step: Float64Array.from([1, 1, 1]),
    priorMean: 0,
    priorVariance: 1,
  });
  const expected = {
    filteredMean: [2 / 3, 3 / 2, 17 / 7],
    filteredVariance: [2 / 3, 5 / 8, 13 / 21],
    mean: [8 / 7, 13 / 7, 17 / 7],
    variance: [10 / 21, 10 / 21, 13 / 21],
  } as const;
  for (const key of ['filteredMean', 'filteredVariance', 'mean', 'variance'] as const) {
    expected[key].forEach((value, i) => {
      expectWithin(level[key][i], value, 1e-14, 'exact fraction in doubles');
    });
  }
});
