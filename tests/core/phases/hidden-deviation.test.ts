import { expect, test } from 'vitest';
import { rampWayFromMiddleM } from '@/lib/core/motion/excursion-shape';
import { hiddenDeviations, hiddenPeakHalf, hiddenRms } from '@/lib/core/phases/hidden-deviation';
import { rateDeviation } from '@/lib/core/phases/rate-deviation';
import type { MoveStep } from '@/lib/core/session/plan';
import { gaussian } from '../../support/flown-session';
import { motionAlongAxis, rowsTo } from '../../support/motion-along-axis';
import { seededRandom } from '../../support/seeded-random';

const STEP_S = 0.5;
const LASTS_S = 300;
const PLANNED_MPS = 0.1;
const SD_M = 0.03;
const STEP: MoveStep = {
  ...{ kind: 'move', id: 'in', toM: 0, plannedS: 600, toleranceMps: 0.02 },
  closingRateMps: [
    [0, PLANNED_MPS],
    [100, PLANNED_MPS],
  ],
};
const SPAN = {
  ...{ fromS: 0, toS: LASTS_S, rangeStartM: 60, rangeEndM: 30, accelerationMps2: 0.01 },
  ...{ startHalfS: 0, endHalfS: 0 },
};

/** Positions with white noise and an excursion of which the rate's lines show nothing. */
function flown(seed: number, excursion: Readonly<{ mps: number; lastsS: number }>) {
  const random = seededRandom(seed);
  const motion = motionAlongAxis({
    tS: rowsTo(LASTS_S, STEP_S),
    axialM: (atS) => 60 - PLANNED_MPS * atS,
    closingMps: () => PLANNED_MPS,
    sdM: 0.005,
    sdMps: 0.001,
  });
  const constant = (value: number): Float64Array => new Float64Array(motion.tS.length).fill(value);
  const wayM = (atS: number): number =>
    rampWayFromMiddleM(0, atS - 150) - rampWayFromMiddleM(0, atS - 150 - excursion.lastsS);
  const values = motion.tS.map(
    (atS, row) => (motion.axialM[row] ?? 0) - excursion.mps * wayM(atS) + SD_M * gaussian(random),
  );
  const x = {
    ...{ tS: motion.tS, values, sd: constant(SD_M), correlation: 0 },
    ...{ slowSd: null, slowS: 1, stepS: STEP_S },
  };
  return {
    ...motion,
    ...{ rateIsDerived: true, rateSpanS: 30, ratePartingPerS: 0.05, rateHalfSpanS: constant(15) },
    unseenMps: constant(0.04),
    samples: new Map([['x', x]]),
  };
}

test('a step whose positions fit a straight course has a deviation as small as they say', () => {
  for (const seed of [1, 2, 3]) {
    const found = rateDeviation(flown(seed, { mps: 0, lastsS: 0 }), STEP, SPAN);
    // Up and back at the plan's acceleration 0.04 m/s would be hidden from a finder that asks for five standard errors.
    expect(found?.peakMps.half).toBeLessThan(0.02);
    expect(found?.rmsMps.half).toBeLessThan(0.001);
  }
});

test('an excursion that noise nearly hides stays covered, of either sign', () => {
  // 0.04 m/s for 3 s move the rest by 0.12 m, some four standard errors beside straight lines of 20 s.
  const rms = 0.04 * Math.sqrt((3 / LASTS_S) * (1 - 3 / LASTS_S));
  let [peaks, squares] = [0, 0];
  for (let seed = 1; seed <= 24; seed++) {
    const mps = seed % 2 === 0 ? 0.04 : -0.04;
    const found = rateDeviation(flown(seed, { mps, lastsS: 3 }), STEP, SPAN);
    const [peak, square] = [found?.peakMps, found?.rmsMps];
    if (Math.abs((peak?.value ?? Number.NaN) - mps) <= (peak?.half ?? 0)) peaks++;
    if (Math.abs((square?.value ?? Number.NaN) - rms) <= (square?.half ?? 0)) squares++;
  }
  expect(peaks).toBeGreaterThanOrEqual(20);
  expect(squares).toBeGreaterThanOrEqual(20);
});

test('heights are those of the closing rate', () => {
  const motion = flown(1, { mps: 0.06, lastsS: 3 });
  const { some } = hiddenDeviations(motion, new Float64Array(motion.tS.length), {
    first: 0,
    last: motion.tS.length - 1,
  });
  const faster = some.reduce((sum, one) => sum + (one.heightMps > 0 ? one.weight : 0), 0);
  expect(faster).toBeGreaterThan(0.95);
});

test('no more than 5 % of what may be hidden lies outside a peak', () => {
  const seen = { value: 0.01, half: 0.002, besideMps: 0.01, elseMps: 0.01 };
  const of = (weight: number) => ({
    none: 1 - weight,
    some: [{ weight, heightMps: 0.03, lastsS: 4 }],
  });
  // 0.03 m/s on the mean, or as one that falls to none 0.049: hidden ones do not tell which, and may all be of that kind.
  expect(hiddenPeakHalf(of(0.01), seen)).toBeLessThan(0.003);
  expect(hiddenPeakHalf(of(0.15), seen)).toBeCloseTo(0.03 * 2 * Math.sqrt(2 / 3), 6);
  expect(hiddenPeakHalf(of(0.06), seen)).toBeCloseTo(0.03 * 2 * Math.sqrt(2 / 3), 6);
  expect(hiddenPeakHalf(of(0.04), seen)).toBeLessThan(0.01);
});

test('what is hidden to the other side is the peak where it passes the mean, though noise showed more', () => {
  // By arithmetic: -0.01 + 0.016 sqrt(8 / 3) = 0.0161 is larger than the mean's 0.01, and 0.0361 from the -0.02 that noise shows.
  const some = [{ weight: 0.2, heightMps: 0.016, lastsS: 4 }];
  const seen = { value: -0.02, half: 0.002, besideMps: -0.01, elseMps: -0.01 };
  expect(hiddenPeakHalf({ none: 0.8, some }, seen)).toBeCloseTo(0.01 + 0.016 * Math.sqrt(8 / 3), 6);
  // One that stands out is no noise: what is smaller than it is not the peak.
  const standing = { ...seen, elseMps: -0.02 };
  expect(hiddenPeakHalf({ none: 0.8, some }, standing)).toBeLessThan(0.01);
  const smaller = [{ weight: 0.2, heightMps: 0.005, lastsS: 4 }];
  expect(hiddenPeakHalf({ none: 0.8, some: smaller }, seen)).toBeLessThan(0.01);
});

test('a root mean square is that of its parts, and no smaller than the mean', () => {
  const of = { meanMps: 0.004, meanSd: 0, durationS: 100, linesHalfS: 15 };
  const nothing = { none: 1, some: [] };
  const quiet = hiddenRms(nothing, { ...of, variedSquare: -3e-6, variedSd: 1e-6 });
  // Of a variation that may only be added, 95 % lie under 1.645 deviations.
  expect(quiet.value).toBeCloseTo(0.004, 12);
  expect(quiet.half).toBeCloseTo(Math.sqrt(0.004 ** 2 + 1.644854e-6) - 0.004, 7);
  const hidden = { none: 0.8, some: [{ weight: 0.2, heightMps: 0.05, lastsS: 4 }] };
  const found = hiddenRms(hidden, { ...of, variedSquare: 0, variedSd: 1e-12 });
  const square = 0.05 ** 2 * 0.04 * 0.96;
  expect(found.value).toBeCloseTo(Math.sqrt(0.004 ** 2 + 0.2 * square * Math.exp(-0.16)), 9);
  expect(found.value + found.half).toBeCloseTo(Math.sqrt(0.004 ** 2 + square), 6);
});
