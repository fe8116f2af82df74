import { expect, test } from 'vitest';
import { findRateRamps } from '@/lib/core/motion/rate-ramps';
import { takeSamples } from '@/lib/core/series/samples';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const SLOW_M = 0.14;
const SLOW_S = 22;
const WHITE_M = 0.05;

/** Rest, from 100 s on at 0.0175 m/s2 to 0.16 m/s: 5 Hz for 200 s, in white noise and slow noise. */
function rampInSlowNoise(seed: number) {
  const random = seededRandom(seed);
  const keep = Math.exp(-0.2 / SLOW_S);
  let level = gaussian(random);
  const tS = Float64Array.from({ length: 1000 }, (_, k) => 0.2 * k);
  const values = tS.map((atS) => {
    level = keep * level + Math.sqrt(1 - keep * keep) * gaussian(random);
    const u = Math.max(0, atS - 100);
    const wayM = u < 9.14 ? 0.00875 * u * u : 0.16 * (u - 4.57);
    return 100 - wayM + SLOW_M * level + WHITE_M * gaussian(random);
  });
  const samples = takeSamples(tS, values, null);
  return {
    ...samples,
    sd: new Float64Array(1000).fill(WHITE_M),
    correlation: 0,
    slowSd: new Float64Array(1000).fill(SLOW_M),
    slowS: SLOW_S,
  };
}

/**
 * By simulation, of which the truth is known. Within 30 s the ramp adds 4 m to the position, some 30 deviations of
 * the slow noise; two ends of 25 s tell a rate to 0.14 times the root of 2 over 25, 0.008 m/s, and two rates their change.
 */
test('a ramp that a short window would not tell in slow noise is kept, over 3 seeds', () => {
  for (let seed = 1; seed <= 3; seed++) {
    const samples = rampInSlowNoise(seed);
    const { ramps } = findRateRamps(samples, { from: 0, to: 1000 });
    const addedMps = ramps.reduce((sum, { sizeMps }) => sum + sizeMps, 0);
    expectWithin(addedMps, -0.16, 0.05, 'four deviations of two rates');
    expect(ramps.length).toBeGreaterThanOrEqual(1);
  }
});
