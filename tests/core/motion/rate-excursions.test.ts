import { describe, expect, test } from 'vitest';
import { NORMAL_95 } from '@/lib/core/math/statistics';
import { excursionRateMps, excursionWayM } from '@/lib/core/motion/excursion-shape';
import { excursionSdMps, findRateExcursions } from '@/lib/core/motion/rate-excursions';
import { takeSamples } from '@/lib/core/series/samples';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const NOISE_M = 0.03;
const HOLD_RATE_MPS = 0.02;

/** A position of 5 Hz with noise. */
function excursions(positionM: (atS: number) => number, seed: number) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: 800 }, (_, k) => k * 0.2);
  const values = tS.map((atS) => positionM(atS) + NOISE_M * gaussian(random));
  const samples = takeSamples(tS, values, null);
  return findRateExcursions(samples, [{ from: 0, to: samples.tS.length }], HOLD_RATE_MPS);
}

/** Closing at 0.1 m/s; at 80 s the rate jumps by `sizeMps` and is back after `lastsS`. */
function falling(sizeMps: number, lastsS: number) {
  return (atS: number): number => {
    const u = Math.min(Math.max(0, atS - 80), lastsS);
    return 40 - 0.1 * atS - sizeMps * (u - (u * u) / (2 * lastsS));
  };
}

/** Closing at 0.1 m/s, from 80 s on for `lastsS` faster by `sizeMps`. */
function flat(sizeMps: number, lastsS: number) {
  return (atS: number): number =>
    40 - 0.1 * atS - sizeMps * Math.min(Math.max(0, atS - 80), lastsS);
}

/** Rest, then from 60 s on at 0.01 m/s2 to 0.2 m/s. */
function ramp(atS: number): number {
  const u = Math.min(Math.max(0, atS - 60), 20);
  return 100 - 0.005 * u * u - 0.2 * Math.max(0, atS - 80);
}

/** The one excursion found, its height, and the standard deviation stated half-way through. */
function only(positionM: (atS: number) => number, seed: number) {
  const found = excursions(positionM, seed);
  const [first] = found;
  if (first === undefined || found.length > 1) throw new Error(`${found.length} found`);
  const { atS, riseS, flatS, heightMps } = first.shape;
  const topS = atS + riseS + flatS / 2;
  return { first, heightMps, topS, sdMps: excursionSdMps(first, topS) };
}

describe('excursions of the rate without measured velocity', () => {
  test.each([
    ['falling', falling(0.12, 6), 0.12],
    ['falling', falling(0.2, 3), 0.2],
    ['flat', flat(0.1, 4), 0.1],
    ['flat', flat(0.05, 10), 0.05],
  ])('one that is %s is found with its height inside the interval stated', (_, way, sizeMps) => {
    const { first, heightMps, topS, sdMps } = only(way, 5);
    expectWithin(heightMps, -sizeMps, 3 * sdMps, 'three of its own standard deviations');
    expect(sdMps).toBeLessThan(0.5 * sizeMps);
    expectWithin(topS, 82.5, 4, 'inside it, or hardly outside');
    expect(excursionSdMps(first, 20)).toBe(0);
    // What it adds to the position for good is known better than its height: area and noise alone.
    expectWithin(
      -excursionWayM(first.shape, 150),
      40 - 15 - way(150),
      0.05,
      'noise of 250 samples',
    );
  });

  test('a flat top at a small noise is told from one that falls', () => {
    const { first } = only(flat(0.4, 8), 3);
    expectWithin(excursionRateMps(first.shape, 82), -0.4, 0.03, 'a straight fall would be at 0.75');
    expectWithin(excursionRateMps(first.shape, 86), -0.4, 0.03, 'a straight fall would be at 0.25');
  });

  test('95 % intervals of the height of flat ones hold it for 4 of 5 seeds or more', () => {
    let inside = 0;
    for (let seed = 101; seed <= 105; seed++) {
      const { heightMps, sdMps } = only(flat(0.08, 5), seed);
      if (Math.abs(-heightMps - 0.08) <= NORMAL_95 * sdMps) inside++;
    }
    expect(inside).toBeGreaterThanOrEqual(4);
  });

  test('steady motion, a ramp, and a slow swing of 10 cm show none, with 2 seeds', () => {
    const swing = (atS: number): number => 30 + 0.1 * Math.sin(atS / 19);
    for (let seed = 1; seed <= 2; seed++) {
      expect(excursions((atS) => 40 - 0.1 * atS, seed)).toEqual([]);
      expect(excursions(ramp, seed)).toEqual([]);
      expect(excursions(swing, seed)).toEqual([]);
    }
  });
});
