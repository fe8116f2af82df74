import { test } from 'vitest';
import { smoothRandomWalk, smoothWandering } from '@/lib/core/math/random-walk-smoother';
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

/**
 * By hand: nothing is known before the first sight, so the level there is the first one's with the wander
 * between on top (a random walk runs alike both ways). The one sight gives 0.01^2 at its own time.
 */
test('before the first sight a level is as sure as that one and the wander up to it', () => {
  const level = Float64Array.from([Number.NaN, Number.NaN, 50, Number.NaN]);
  const sd = new Float64Array(4);
  const tS = Float64Array.from([0, 30, 40, 60]);
  smoothWandering({ tS, noiseSd: new Float64Array(4).fill(0.01), variancePerS: 1e-6 }, level, sd);
  const variances = [1e-4 + 40e-6, 1e-4 + 10e-6, 1e-4, 1e-4 + 20e-6];
  variances.forEach((variance, i) => {
    expectWithin(level[i], 50, 1e-9, 'rounding beside a prior of 1e6 m');
    expectWithin(sd[i], Math.sqrt(variance), 1e-9, 'as above');
  });
});
