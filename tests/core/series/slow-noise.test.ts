import { expect, test } from 'vitest';
import {
  bendOfSlow,
  bendOfSlowIntegral,
  meanVarianceShare,
  slopeVarianceShare,
} from '@/lib/core/math/noise-shape';
import { overNeighbourNoise, takeSamples } from '@/lib/core/series/samples';
import { noiseParts, type PairedNoise, pairedNoise } from '@/lib/core/series/slow-noise';
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
    const over = overNeighbourNoise(samples);
    const parts = noiseParts([{ ...samples, over }], samples.stepS);
    // Of all blocks: one of them tells the scale to a twelfth only.
    const scale = samples.sd.reduce((sum, sd) => sum + sd, 0) / samples.sd.length / over;
    const size = scale * Math.sqrt(parts.slow);
    expectWithin(size, 0.1, 0.035, '100 correlation lengths: a tenth, and the cut of long lags');
    expectWithin(scale * Math.sqrt(parts.white), 0.05, 0.005, '10,000 samples');
  }
});

test('white noise has no slow part', () => {
  for (const seed of [1, 2, 3]) {
    const samples = noise(0, seed);
    const over = overNeighbourNoise(samples);
    expect(noiseParts([{ ...samples, over }], samples.stepS).slow).toBe(0);
  }
});

/** A first-order process of 20 s at 2 Hz, its deviation 1. */
function slowAt2Hz(random: () => number) {
  const keep = Math.exp(-0.5 / 20);
  let level = gaussian(random);
  return (): number => {
    level = keep * level + Math.sqrt(1 - keep * keep) * gaussian(random);
    return level;
  };
}

/** Mean of the squares of what is found over what was made, for some seeds. */
function meanShare(seeds: number, share: (seed: number) => number): number {
  return Array.from({ length: seeds }, (_, k) => share(k + 1)).reduce((a, b) => a + b) / seeds;
}

test('three axes of one source show the slow noise that was made, none too small', () => {
  const share = meanShare(8, (seed) => {
    const random = seededRandom(seed);
    const columns = [0, 1, 2].map(() => {
      const slow = slowAt2Hz(random);
      const tS = Float64Array.from({ length: 1600 }, (_, k) => 0.5 * k);
      const values = tS.map(() => 0.05 * gaussian(random) + 0.1 * slow());
      return { tS, values, sd: new Float64Array(1600).fill(0.05), over: 1 };
    });
    return (noiseParts(columns, 0.5).slow * 0.05 ** 2) / 0.1 ** 2;
  });
  expectWithin(share, 1, 0.2, 'eight seeds of 120 time constants: 5 %, and 24 s for 20 s');
});

/** 800 s at 2 Hz, at rest: position and velocity with the slow noise asked for, as the offset shows it. */
function pairs(slowM: number, slowMps: number, seed: number) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: 1600 }, (_, k) => 0.5 * k);
  return [0, 1, 2].map(() => {
    const [ofPosition, ofVelocity] = [slowAt2Hz(random), slowAt2Hz(random)];
    const velocity = tS.map(() => 0.001 * gaussian(random) + slowMps * ofVelocity());
    let wayM = 0;
    const offset = velocity.map((mps, k) => {
      if (k > 0) wayM += 0.25 * (mps + (velocity[k - 1] ?? 0));
      return 0.03 * gaussian(random) + slowM * ofPosition() - wayM;
    });
    // What neighbours show: the white noise, and by how much the slow one changes from one to the next.
    const step = Math.sqrt(bendOfSlow(0.5 / 20));
    const scale = (white: number, slow: number) => ({
      sd: new Float64Array(1600).fill(Math.hypot(white, slow * step)),
      over: 1,
    });
    return {
      offset: { tS, values: offset, ...scale(0.03, slowM) },
      velocity: { tS, values: velocity, ...scale(0.001, slowMps) },
    };
  });
}

/** Scale squared over the slow noise's variance. */
function shownBy(white: number, slow: number): number {
  return (white / slow) ** 2 + bendOfSlow(0.5 / 20);
}

test('positions and velocities together show both slow noises as they were made', () => {
  const stepS = { position: 0.5, velocity: 0.5 };
  const found = Array.from({ length: 8 }, (_, k) => pairedNoise(pairs(0.06, 0.003, k + 1), stepS));
  const mean = (of: (one: PairedNoise) => number): number =>
    found.reduce((sum, one) => sum + of(one), 0) / found.length;
  const position = mean((one) => one.position.slow) * shownBy(0.03, 0.06);
  expectWithin(position, 1, 0.2, 'eight seeds of 120 time constants: 5 %, way and noise mixed');
  const velocity = mean((one) => one.velocity.slow) * shownBy(0.001, 0.003);
  expectWithin(velocity, 1, 0.2, 'eight seeds of 120 time constants');
  const none = pairedNoise(pairs(0, 0, 3), stepS);
  expect([none.position.slow, none.velocity.slow]).toEqual([0, 0]);
});
