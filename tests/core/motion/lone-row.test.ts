import { expect, test } from 'vitest';
import { estimateMotion } from '@/lib/core/motion/estimate-motion';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/** By hand: 0.2 m/s from 100 m, two rows a second but for 40 s with one row in their middle. */
test.each([0, 0.05])(
  'of positions, with %d m of noise, a row between two gaps tells a place and no rate',
  (noiseM) => {
    const random = seededRandom(3);
    const timesS = Array.from({ length: 400 }, (_, k) => k / 2);
    const tS = Float64Array.from(timesS.filter((atS) => atS < 80 || atS === 100 || atS > 120));
    const values = tS.map((atS) => 100 - 0.2 * atS + noiseM * gaussian(random));
    const motion = estimateMotion({
      ...{ tS, longestStepS: 5, stepS: 0.5, holdRateMps: 0.02, accelerationMps2: 0.01 },
      columns: new Map([['range', { name: 'range', values, rejected: null }]]),
    });
    const row = tS.indexOf(100);
    expect(Math.abs((motion?.rangeM[row] ?? 0) - 80)).toBeLessThan(0.2);
    expect(motion?.closingMps[row]).toBeNaN();
    expect(motion?.closingSdMps[row]).toBeNaN();
    for (const near of [row - 1, row + 1])
      expect(Math.abs((motion?.closingMps[near] ?? 0) - 0.2)).toBeLessThan(0.02);
  },
);
