import { expect, test } from 'vitest';
import { pulseHalfMps } from '@/lib/core/phases/rate-pulses';
import type { Samples } from '@/lib/core/series/samples';
import { motionAlongAxis, rowsTo } from '../../support/motion-along-axis';
import { seededRandom } from '../../support/seeded-random';

const SD_MPS = 0.001;

/** Braking at 0.02 m/s2 in steps of `stairMps`; 0 = evenly, with noise that is spread evenly. */
function braking(stairMps: number, seed: number) {
  const random = seededRandom(seed);
  const tS = Float64Array.from(rowsTo(20, 0.2));
  const even = (atS: number): number => -0.2 + 0.02 * atS;
  const values = tS.map((atS) => {
    const rate = stairMps > 0 ? stairMps * Math.floor(even(atS) / stairMps) : even(atS);
    return rate + SD_MPS * Math.sqrt(12) * (random() - 0.5);
  });
  const sd = new Float64Array(tS.length).fill(SD_MPS);
  const rate: Samples = { tS, values, sd, correlation: 0, slowSd: null, slowS: 1, stepS: 0.2 };
  const along = motionAlongAxis({ tS: [...tS], axialM: () => 50, closingMps: () => 0 });
  return { ...along, samples: new Map([['vx', rate]]) };
}

// A sawtooth of height h lies up to h / 2 from its line: elementary.
test('stairs of a rate are as high as they are, and noise is none in nineteen of twenty places', () => {
  const places = Array.from({ length: 40 }, (_, k) => 3 + 0.35 * k);
  const high = places.map((atS) => pulseHalfMps(braking(0.012, 5), atS)).sort((a, b) => a - b);
  expect(high[20]).toBeGreaterThan(0.004);
  expect(high[20]).toBeLessThan(0.008);
  const seeds = Array.from({ length: 200 }, (_, seed) => pulseHalfMps(braking(0, seed), 10));
  const told = seeds.filter((half) => half > 0).length;
  expect(told).toBeLessThan(16);
});
