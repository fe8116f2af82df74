import { expect, test } from 'vitest';
import { derivedSquareVariance } from '@/lib/core/phases/derived-square';
import { rateDeviation } from '@/lib/core/phases/rate-deviation';
import type { MoveStep } from '@/lib/core/session/plan';
import { gaussian } from '../../support/flown-session';
import { motionAlongAxis } from '../../support/motion-along-axis';
import { seededRandom } from '../../support/seeded-random';

const STEP_S = 0.5;
const ROWS = 801;
const PLANNED_MPS = 0.1;
/** Lines reach so many rows to either side. */
const REACH = 6;
const HALF_S = REACH * STEP_S;
const SD_MPS = 0.004;
const ACCELERATION_MPS2 = 0.01;

/** Slopes of lines slid over white noise, scaled to a deviation of `SD_MPS`: brute force. */
function lineNoise(seed: number): Float64Array {
  const random = seededRandom(seed);
  const noise = Array.from({ length: ROWS + 2 * REACH }, () => gaussian(random));
  const square = (REACH * (REACH + 1) * (2 * REACH + 1)) / 3;
  return Float64Array.from({ length: ROWS }, (_, row) => {
    let sum = 0;
    for (let k = -REACH; k <= REACH; k++) sum += k * (noise[row + REACH + k] ?? 0);
    return (SD_MPS * sum) / Math.sqrt(square);
  });
}

const motion = {
  ...motionAlongAxis({
    tS: Array.from({ length: ROWS }, (_, row) => row * STEP_S),
    axialM: (atS) => 60 - PLANNED_MPS * atS,
    closingMps: () => PLANNED_MPS,
    sdM: 0.005,
    sdMps: SD_MPS,
  }),
  rateIsDerived: true,
  rateSpanS: 30,
  ratePartingPerS: 0.05,
  rateHalfSpanS: new Float64Array(ROWS).fill(HALF_S),
  unseenMps: new Float64Array(ROWS).fill(1e-9),
};
const STEP: MoveStep = {
  ...{ kind: 'move', id: 'in', toM: 0, plannedS: 600, toleranceMps: 0.02 },
  closingRateMps: [
    [0, PLANNED_MPS],
    [100, PLANNED_MPS],
  ],
};
const SPAN = {
  ...{ fromS: 0, toS: (ROWS - 1) * STEP_S, rangeStartM: 60, rangeEndM: 20 },
  ...{ startHalfS: 0, endHalfS: 0, accelerationMps2: ACCELERATION_MPS2 },
};
const COUNT = 300;

/** How far from a truth the numbers of many flights lie, with what they state. */
function flights(
  deviatesMps: (atS: number) => number,
  of: 'rmsMps' | 'peakMps',
  changes: Partial<typeof motion> = {},
) {
  return Array.from({ length: COUNT }, (_, seed) => {
    const noise = lineNoise(seed + 1);
    const closingMps = motion.tS.map(
      (atS, row) => PLANNED_MPS + deviatesMps(atS) + (noise[row] ?? 0),
    );
    const found = rateDeviation({ ...motion, ...changes, closingMps }, STEP, SPAN)?.[of];
    return found ?? { value: Number.NaN, half: Number.NaN };
  });
}

function insideOf(found: ReturnType<typeof flights>, truth: number): number {
  return found.filter(({ value, half }) => Math.abs(value - truth) <= half).length / COUNT;
}

test.each([0, 0.005])(
  'the square of lines over noise scatters as stated, what it is of swinging by %d m/s',
  (sizeMps) => {
    // At the frequency at which lines keep most of white noise: j1 is largest at 2.08 (Abramowitz and Stegun, ch. 10).
    const swing = (atS: number): number => sizeMps * Math.sin((2.08 / HALF_S) * atS);
    const rows = { first: 0, last: ROWS - 1 };
    let [sum, squares, stated] = [0, 0, 0];
    for (let seed = 1; seed <= COUNT; seed++) {
      const noise = lineNoise(seed);
      const seen = motion.tS.map((atS, row) => swing(atS) + (noise[row] ?? 0));
      const integral = seen.reduce((total, each) => total + STEP_S * each * each, 0);
      [sum, squares] = [sum + integral / COUNT, squares + integral ** 2 / COUNT];
      stated += derivedSquareVariance(motion, seen, rows) / COUNT;
    }
    // A variance of 300 is known to 8 %; samples in place of a continuous line differ by some more.
    expect(Math.abs(stated / (squares - sum ** 2) - 1)).toBeLessThan(0.3);
  },
);

test('a rate as planned has a root mean square as near to nothing as its noise lets it be told', () => {
  const found = flights(() => 0, 'rmsMps');
  // Noise of the mean square: 2 sd4 (24/35) half span / time (as above); its root at two deviations: 1.1 mm/s.
  const halves = found.map(({ half }) => half).sort((a, b) => a - b);
  expect(halves[COUNT >> 1]).toBeLessThan(0.002);
  expect(insideOf(found, 0)).toBeGreaterThan(0.92);
});

test('the largest of short lines lies as far off as so many of them let it', () => {
  const found = flights(() => 0.006, 'peakMps');
  expect(insideOf(found, 0.006)).toBeGreaterThan(0.92);
});

test('an excursion that stands out adds its square as well as its shapes know it', () => {
  const unseenMps = motion.unseenMps.map((hidden, row) => (row >= 400 && row < 420 ? 0 : hidden));
  const rows = { first: 0, last: ROWS - 1 };
  const seen = motion.tS.map((_, row) => (row >= 400 && row < 420 ? 0.05 : 0));
  const stated = (squareShare: number): number => {
    const rateCourses = [{ fromS: 199, stepS: 1, offsMps: [new Float64Array(13)], squareShare }];
    return derivedSquareVariance({ ...motion, unseenMps, rateCourses }, seen, rows);
  };
  // 0.05 m/s for 10 s, a fifth of the integral of its square (elementary); lines beside it add what they add without.
  expect(stated(0.2) - stated(0)).toBeCloseTo((0.2 * 0.05 ** 2 * 10) ** 2, 9);
});

test('courses of an excursion that stands out make its square as uncertain as they are higher', () => {
  const unseenMps = motion.unseenMps.map((hidden, row) => (row >= 400 && row < 420 ? 0 : hidden));
  const rows = { first: 0, last: ROWS - 1 };
  const seen = motion.tS.map((_, row) => (row >= 400 && row < 420 ? 0.05 : 0));
  // From the start on 0.02 m/s over the estimate, within the excursion 0.03: the first is the rate beside, 0.01 is its own.
  const off = Float64Array.from({ length: 13 }, (_, k) => (k > 0 && k < 12 ? 0.03 : 0.02));
  const stated = (offsMps: readonly Float64Array[]): number => {
    const rateCourses = [{ fromS: 199, stepS: 1, offsMps, squareShare: 0 }];
    return derivedSquareVariance({ ...motion, unseenMps, rateCourses }, seen, rows);
  };
  // (0.06^2 - 0.05^2) m2/s2 for 10 s is all that 95 % of them differ by (elementary).
  const sd = (10 * (0.06 ** 2 - 0.05 ** 2)) / 1.959964;
  expect(stated([off]) - stated([new Float64Array(13)])).toBeCloseTo(sd * sd, 9);
});
