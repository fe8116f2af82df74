import { expect, test } from 'vitest';
import {
  bendOfSlow,
  bendOfSlowIntegral,
  meanVarianceShare,
  slopeVarianceShare,
} from '@/lib/core/math/noise-shape';
import { neighbourNoise, takeSamples } from '@/lib/core/series/samples';
import { noiseParts } from '@/lib/core/series/slow-noise';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/** Double sum over the unit span of weights and exp(-u |s - s'|): the definitions, by brute force. */
function bruteForce(u: number, weight: (s: number) => number): number {
  const n = 400;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const [a, b] = [(i + 0.5) / n - 0.5, (j + 0.5) / n - 0.5];
      sum += weight(a) * weight(b) * Math.exp(-u * Math.abs(a - b));
    }
  }
  return sum / (n * n);
}

test.each([0.01, 0.1, 1, 8])('mean and slope of slow noise, %d time constants long', (u) => {
  const mean = bruteForce(u, () => 1);
  expectWithin(meanVarianceShare(u), mean, 1e-3 * mean, 'midpoint sum of 400 points');
  const slope = 144 * bruteForce(u, (s) => s);
  expectWithin(slopeVarianceShare(u), slope, 2e-2 * slope, 'midpoint sum of 400 points');
});

test('bends: of slow noise far apart as of white noise, of its integral as of a random walk', () => {
  expectWithin(bendOfSlow(40), 1, 1e-12, 'exp(-40)');
  // Far apart the integral walks with variance 2 tau a second: a bend of 4 tau lag, over 6.
  expectWithin(bendOfSlowIntegral(4000, 1), (4 * 4000) / 6, 2, 'the start of the walk, 1 / lag');
  expectWithin(bendOfSlowIntegral(1e-4, 1), (2 / 9) * 1e-12, 1e-15, 'leading term 2/9 u3');
});

/** 2,000 s at 5 Hz: a white part and a first-order process of 20 s. */
function noise(slowSd: number, seed: number) {
  const random = seededRandom(seed);
  const keep = Math.exp(-0.2 / 20);
  let level = gaussian(random);
  const tS = Float64Array.from({ length: 10_000 }, (_, k) => 0.2 * k);
  const values = tS.map((atS) => {
    level = keep * level + Math.sqrt(1 - keep * keep) * gaussian(random);
    return 100 - 0.1 * atS + 0.05 * gaussian(random) + slowSd * level;
  });
  return takeSamples(tS, values, null);
}

test('slow noise is told from white noise, with its size', () => {
  for (const seed of [1, 2, 3]) {
    const samples = noise(0.1, seed);
    const scale = neighbourNoise(samples);
    const parts = noiseParts([{ ...samples, scale }], samples.stepS);
    const size = (scale[5000] ?? 0) * Math.sqrt(parts.slow);
    expectWithin(size, 0.1, 0.035, '100 correlation lengths: a tenth, and the cut of long lags');
    expectWithin((scale[5000] ?? 0) * Math.sqrt(parts.white), 0.05, 0.005, '10,000 samples');
  }
});

test('white noise has no slow part', () => {
  for (const seed of [1, 2, 3]) {
    const samples = noise(0, seed);
    const scale = neighbourNoise(samples);
    expect(noiseParts([{ ...samples, scale }], samples.stepS).slow).toBe(0);
  }
});
