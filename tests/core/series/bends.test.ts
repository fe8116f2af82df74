import { expect, test } from 'vitest';
import { findJumps } from '@/lib/core/series/jumps';
import { takeSamples } from '@/lib/core/series/samples';
import { smoothBends, smoothValues } from '@/lib/core/series/smooth';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const NOISE = 0.002;
const LINES = { halfSpanS: 1, gapS: 5, jumpThreshold: 6.5 };

function sampled(signal: (atS: number) => number, stepS: number, seed: number) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: 1000 }, (_, row) => row * stepS);
  return takeSamples(
    tS,
    tS.map((atS) => signal(atS) + NOISE * gaussian(random)),
    null,
  );
}

/** Up and back at 0.05 m/s2, 0.2 m/s high at 100 s. The mean of such a peak over 2 s is 0.025 lower (elementary). */
const peaked = (atS: number): number => Math.max(0, 0.2 - 0.05 * Math.abs(atS - 100));

test('a peak that lines over two seconds flatten is flattened less', () => {
  for (let seed = 1; seed <= 10; seed++) {
    const samples = sampled(peaked, 0.2, seed);
    const whole = { ...LINES, jumpThreshold: Number.POSITIVE_INFINITY };
    const { value } = smoothBends(samples, samples.tS, whole);
    expectWithin(
      Math.max(...value),
      0.2,
      0.016,
      'two thirds of what lines over two seconds take off',
    );
    const lines = smoothValues(samples, samples.tS, whole);
    expect(Math.max(...lines.value)).toBeLessThan(0.18);
  }
});

test('noise alone leaves the lines as long as they are', () => {
  for (let seed = 1; seed <= 10; seed++) {
    const samples = sampled((atS) => 0.002 * Math.sin(atS / 10), 0.2, seed);
    const { value } = smoothBends(samples, samples.tS, LINES);
    expect(value).toEqual(smoothValues(samples, samples.tS, LINES).value);
  }
});

/** Reasoning: a mean of so many samples is as noisy as their correlation lets it be, (1 + r) / (1 - r) times the variance of independent ones. */
test('noise that hangs together from sample to sample is no bend', () => {
  for (let seed = 1; seed <= 3; seed++) {
    const random = seededRandom(seed);
    const tS = Float64Array.from({ length: 3000 }, (_, row) => row * 0.01);
    let noise = 0;
    const values = tS.map(() => {
      noise = 0.9 * noise + Math.sqrt(1 - 0.9 ** 2) * NOISE * gaussian(random);
      return noise;
    });
    const samples = takeSamples(tS, values, null);
    const { value } = smoothBends(samples, tS, LINES);
    const lines = smoothValues(samples, tS, LINES).value;
    const shorter = value.filter((one, row) => one !== lines[row]).length;
    expect(shorter).toBeLessThanOrEqual(0.01 * tS.length);
  }
});

test('a jump that is taken back within the span is two jumps', () => {
  const samples = sampled((atS) => (atS > 20.01 && atS < 20.51 ? 0.1 : 0), 0.04, 3);
  const starts = findJumps(samples, 0, samples.tS.length, { spanS: 1, threshold: 6.5 });
  expect(starts.map((start) => samples.tS[start])).toEqual([501 * 0.04, 513 * 0.04]);
  const { value } = smoothValues(samples, samples.tS, LINES);
  expectWithin(value[506], 0.1, 0.003, 'the mean of twelve samples');
});
