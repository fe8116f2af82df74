import { describe, expect, test } from 'vitest';
import { NORMAL_95 } from '@/lib/core/math/statistics';
import { excursionRateMps, excursionWayM } from '@/lib/core/motion/excursion-shape';
import { courseOffMps, halfOverCourses } from '@/lib/core/motion/rate-courses';
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

/**
 * Least squares through the very samples of a seed, the shape's family given: area, length and start of one excursion,
 * beside a straight line, over 22 s before it to 22 s after it, with 0.03 m for the noise. Computed apart from this
 * project with SciPy 1.17.1, `scipy.optimize.curve_fit(..., absolute_sigma=True)` from several starts, the best taken;
 * standard errors from its covariance, that of the height (2 area / length of a falling one) by the delta method.
 */
type LeastSquares = Readonly<{ areaM: number; areaSdM: number; heightMps: number; sdMps: number }>;

const FITTED: readonly (readonly [string, ReturnType<typeof flat>, LeastSquares])[] = [
  [
    'falling, 0.12 m/s',
    falling(0.12, 6),
    { areaM: -0.37043, areaSdM: 0.00962, heightMps: -0.11699, sdMps: 0.00758 },
  ],
  [
    'falling, 0.2 m/s',
    falling(0.2, 3),
    { areaM: -0.31178, areaSdM: 0.0089, heightMps: -0.18691, sdMps: 0.01984 },
  ],
  [
    'flat, 0.1 m/s',
    flat(0.1, 4),
    { areaM: -0.41265, areaSdM: 0.00927, heightMps: -0.09852, sdMps: 0.00542 },
  ],
  [
    'flat, 0.05 m/s',
    flat(0.05, 10),
    { areaM: -0.50778, areaSdM: 0.01093, heightMps: -0.05036, sdMps: 0.0015 },
  ],
];

describe('excursions of the rate without measured velocity', () => {
  test.each(FITTED)('%s: area and height are those of least squares', (_, way, wanted) => {
    const { first, heightMps, topS, sdMps } = only(way, 5);
    const areaM = excursionWayM(first.shape, 150);
    expectWithin(areaM, wanted.areaM, 0.75 * wanted.areaSdM, 'shapes differ by less than noise');
    expectWithin(
      heightMps,
      wanted.heightMps,
      NORMAL_95 * sdMps,
      'its interval, the shape not given',
    );
    // Who has to weigh shapes knows a height no better than one who is told the shape.
    expect(sdMps).toBeGreaterThan(wanted.sdMps);
    expect(sdMps).toBeLessThan(0.5 * Math.abs(wanted.heightMps));
    expectWithin(topS, 82.5, 4, 'inside it, or hardly outside');
    expect(excursionSdMps(first, 20)).toBe(0);
  });

  test.each(FITTED)(
    '%s: courses move the position as least squares say, and as far apart',
    (name, way, wanted) => {
      const { first } = only(way, 5);
      const { offsMps, stepS } = first.courses;
      const readM = excursionWayM(first.shape, 150);
      const areasM = offsMps.map((off) => readM + stepS * off.reduce((sum, one) => sum + one, 0));
      const meanM = areasM.reduce((sum, one) => sum + one, 0) / areasM.length;
      const sdM = Math.sqrt(
        areasM.reduce((sum, one) => sum + (one - meanM) ** 2, 0) / areasM.length,
      );
      expectWithin(meanM, wanted.areaM, wanted.areaSdM, 'kinds differ by less than noise');
      expectWithin(sdM / wanted.areaSdM, 1, 0.4, 'shape and net change of rate not given');
      // The true height is one of those that the courses leave open.
      const heightsMps = offsMps.map((off) =>
        off.reduce((most, one, k) => {
          const rateMps = one + excursionRateMps(first.shape, first.courses.fromS + k * stepS);
          return Math.abs(rateMps) > Math.abs(most) ? rateMps : most;
        }, 0),
      );
      const half = halfOverCourses(first.shape.heightMps, heightsMps);
      const trueMps = Number(/0[.]\d+/.exec(name)?.[0]);
      expectWithin(-first.shape.heightMps, trueMps, half, 'its own half-width');
      expect(half).toBeLessThan(0.6 * trueMps);
    },
  );

  test('kinds that the data rule out are no courses', () => {
    const { first } = only(flat(0.4, 8), 3);
    const { courses, shape } = first;
    expect(courses.offsMps).toHaveLength(240);
    // A fall from 0.8 m/s to nothing would be at 0.6 and 0.2.
    for (const atS of [82, 86]) {
      const read = excursionRateMps(shape, atS);
      for (let k = 0; k < 240; k++) {
        expectWithin(read + courseOffMps(courses, k, atS), -0.4, 0.02, 'noise and slopes');
      }
    }
    expect(courseOffMps(courses, 0, 20)).toBe(0);
  });

  test('a flat top at a small noise is told from one that falls, as well as least squares do', () => {
    const { first, sdMps } = only(flat(0.4, 8), 3);
    const [areaM, heightMps, heightSdMps] = [-3.1975, -0.40119, 0.00216];
    expectWithin(excursionRateMps(first.shape, 82), heightMps, heightSdMps, 'one standard error');
    expectWithin(
      excursionRateMps(first.shape, 86),
      heightMps,
      heightSdMps,
      'one; a fall would be at 0.1',
    );
    expectWithin(excursionWayM(first.shape, 150), areaM, 0.00769, '0.75 of its standard error');
    expectWithin(sdMps, heightSdMps, 0.2 * heightSdMps, 'one shape has nearly all the weight');
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
