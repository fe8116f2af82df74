import { expect, test } from 'vitest';
import {
  agreementByRange,
  agreementOf,
  correlationFactor,
} from '@/lib/core/navigation/range-agreement';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/** A first-order process with the given correlation of neighbours, mean 0, variance 1. */
function firstOrder(n: number, rho: number, seed: number): Float64Array {
  const random = seededRandom(seed);
  const values = new Float64Array(n);
  let last = gaussian(random);
  for (let i = 0; i < n; i++) {
    values[i] = last;
    last = rho * last + Math.sqrt(1 - rho * rho) * gaussian(random);
  }
  return values;
}

/**
 * Source: the variance of a mean of a first-order process is raised by (1 + rho) / (1 - rho) (from
 * memory; it follows from summing rho^k).
 */
test('noise that hangs together counts as much as its correlations add up to', () => {
  for (const rho of [0, 0.5, 0.9]) {
    let mean = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const values = firstOrder(4000, rho, seed);
      const level = values.reduce((sum, value) => sum + value, 0) / values.length;
      mean += correlationFactor(values.map((value) => value - level)) / 20;
    }
    const exact = (1 + rho) / (1 - rho);
    expectWithin(mean, exact, 0.12 * exact, 'mean of 20 estimates, each to some 30 % at rho 0.9');
  }
});

test('92 to 98 % of the intervals of a bias hold it, white noise and noise of 20 s alike', () => {
  for (const rho of [0, Math.exp(-1 / 20)]) {
    let inside = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const noise = firstOrder(3000, rho, 1000 + seed);
      const found = agreementOf(noise.map((value) => 0.3 + 0.05 * value));
      if (found !== null && Math.abs(found.biasM.value - 0.3) <= found.biasM.half) inside++;
    }
    expect(inside).toBeGreaterThanOrEqual(184);
    expect(inside).toBeLessThanOrEqual(196);
  }
});

test('bias and scatter are told band by band, and too few differences tell nothing', () => {
  const n = 600;
  const rangeM = Float64Array.from({ length: n }, (_, i) => 150 - (i * 140) / n);
  const noise = firstOrder(n, 0, 5);
  // A scale error of 0.2 % and noise that grows with range.
  const differenceM = rangeM.map((m, i) => 0.002 * m + 0.001 * m * (noise[i] ?? 0));
  const bands = agreementByRange({ tS: rangeM, rangeM, differenceM });
  expect(bands.map(({ fromM, toM }) => [fromM, toM])).toEqual([
    [200, 100],
    [100, 50],
    [50, 20],
    [20, 10],
  ]);
  for (const { fromM, toM, agreement } of bands) {
    const middleM = (Math.min(fromM, 150) + toM) / 2;
    expectWithin(agreement.biasM.value, 0.002 * middleM, 2 * agreement.biasM.half, 'noise');
    expectWithin(agreement.scatterM.value, 0.001 * middleM, 0.4e-3 * middleM, 'range in the band');
  }
  expect(agreementOf(differenceM.subarray(0, 7))).toBeNull();
  expect(agreementOf(new Float64Array(0))).toBeNull();
});
