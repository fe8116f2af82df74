import { expect, test } from 'vitest';
import type { MotionEstimate } from '@/lib/core/motion/motion-estimate';
import { edgeByPosition } from '@/lib/core/phases/edge-by-position';
import { findMotionRuns } from '@/lib/core/phases/motion-runs';
import { takeSamples } from '@/lib/core/series/samples';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { motionAlongAxis, rowsTo } from '../../support/motion-along-axis';
import { seededRandom } from '../../support/seeded-random';

const [ACCEL_MPS2, RATE_MPS, HOLD_RATE_MPS] = [0.01, 0.5, 0.02];
/** Rest, from 100 s on 0.01 m/s2 up to 0.5 m/s: 0.02 m/s is passed 2 s later. By arithmetic. */
const START_S = 100;
const EDGE_S = START_S + HOLD_RATE_MPS / ACCEL_MPS2;

type Flown = Readonly<{
  backwards?: 'no' | 'yes';
  accelMps2?: number;
  rateMps?: number;
  noiseM?: number;
  stepS?: number;
  /** How far the hold drifts on its way; nothing once the ramp has begun. */
  driftM?: (atS: number) => number;
}>;

/** A range whose rate is known to 0.05 m/s, if nothing else is said of 2 Hz with noise of 0.3 m: the whole hold may be a move. */
function flown(
  seed: number,
  {
    backwards = 'no',
    accelMps2 = ACCEL_MPS2,
    rateMps = RATE_MPS,
    noiseM = 0.3,
    stepS = 0.5,
    driftM = () => 0,
  }: Flown = {},
): MotionEstimate {
  const random = seededRandom(seed);
  const isBackwards = backwards === 'yes';
  const time = (atS: number): number => (isBackwards ? 200 - atS : atS);
  const closingMps = (atS: number): number =>
    Math.min(rateMps, Math.max(0, accelMps2 * (atS - START_S)));
  const wayM = (atS: number): number => {
    const u = Math.min(Math.max(0, atS - START_S), rateMps / accelMps2);
    const afterM = rateMps * Math.max(0, atS - START_S - rateMps / accelMps2);
    return (accelMps2 * u * u) / 2 + afterM + driftM(Math.min(atS, START_S));
  };
  const motion = motionAlongAxis({
    tS: rowsTo(200, stepS),
    axialM: (atS) => 200 - wayM(time(atS)),
    closingMps: (atS) => closingMps(time(atS)) * (isBackwards ? -1 : 1),
    sdMps: 0.05,
  });
  const values = motion.rangeM.map((trueM) => trueM + noiseM * gaussian(random));
  const samples = new Map([['range', takeSamples(motion.tS, values, null)]]);
  return { ...motion, samples, channels: ['range'], basis: 'range-only', rateIsDerived: true };
}

const PLAN = { holdRateMps: HOLD_RATE_MPS, accelerationMps2: ACCEL_MPS2 };

test('positions tell the edge although the rate was 8 s out, with 6 seeds', () => {
  const errorsS: number[] = [];
  for (let seed = 1; seed <= 6; seed++) {
    const found = edgeByPosition(flown(seed), {
      ...{ atS: EDGE_S - 8, reachS: 90, hold: 'before' },
      ...PLAN,
    });
    if (found === null) throw new Error('nothing found');
    expectWithin(found.atS, EDGE_S, 1.5 * found.halfS, 'three standard errors');
    expect(found.halfS).toBeLessThan(4);
    errorsS.push(found.atS - EDGE_S);
  }
  const mean = errorsS.reduce((sum, one) => sum + one, 0) / errorsS.length;
  expectWithin(mean, 0, 1.2, 'two standard errors of a mean of 6');
});

test('an edge into a hold is that out of one, turned round', () => {
  const [out, into] = [flown(3), flown(3, { backwards: 'yes' })];
  const a = edgeByPosition(out, { ...{ atS: EDGE_S, reachS: 90, hold: 'before' }, ...PLAN });
  const edge = { atS: 200 - EDGE_S, reachS: 90, hold: 'after' } as const;
  const b = edgeByPosition(into, { ...edge, ...PLAN });
  expectWithin(b?.atS, 200 - EDGE_S, 1.5 * (b?.halfS ?? 0), 'three standard errors');
  expectWithin(b?.halfS, a?.halfS ?? 0, 1.5, 'other noise');
});

/**
 * A hold that drifts 2.4 mm/s to and fro, turning every 25 s, then a ramp at 0.02 m/s2 to 0.2 m/s; 10 Hz with noise of 0.17 m, wherever
 * the rate had the edge. 16 or fewer of 20 intervals of true 95 % hold the truth once in 62 times (binomial law).
 */
test('intervals of an edge after a drifting hold hold the truth, with 20 seeds', () => {
  const motion = { accelMps2: 0.02, rateMps: 0.2, noiseM: 0.17, stepS: 0.1 };
  const driftM = (atS: number): number => 0.06 * Math.abs(((atS / 25 + 1) % 2) - 1);
  const edgeS = START_S + HOLD_RATE_MPS / motion.accelMps2;
  const errorsS = Array.from({ length: 20 }, (_, k) => {
    const found = edgeByPosition(flown(k + 1, { ...motion, driftM }), {
      ...{ atS: edgeS - 2 + 0.2 * k, reachS: 90, hold: 'before' },
      ...{ holdRateMps: HOLD_RATE_MPS, accelerationMps2: motion.accelMps2 },
    });
    const errorS = (found?.atS ?? Number.NaN) - edgeS;
    return { errorS, isInside: Math.abs(errorS) <= (found?.halfS ?? 0) };
  });
  expect(errorsS.filter(({ isInside }) => isInside).length).toBeGreaterThanOrEqual(17);
  const rms = Math.sqrt(errorsS.reduce((sum, { errorS }) => sum + errorS ** 2, 0) / errorsS.length);
  // In 1 s the ramp moves 0.01 m, of which a second of positions tells 0.17 / 10^1/2 = 0.05 m.
  expect(rms).toBeLessThan(1);
});

/** The same drift, and so little noise that the positions tell it; at 0.006 m/s2 it moves the edge by 0.4 s, if the ramp takes it on. */
test('what the positions tell of the drift before a ramp is made use of, with 5 seeds', () => {
  const motion = { accelMps2: 0.006, rateMps: 0.2, noiseM: 0.03, stepS: 0.2 };
  const driftM = (atS: number): number => 0.06 * Math.abs(((atS / 25 + 1) % 2) - 1);
  const edgeS = START_S + HOLD_RATE_MPS / motion.accelMps2;
  const found = Array.from({ length: 5 }, (_, k) => {
    const at = edgeByPosition(flown(k + 1, { ...motion, driftM }), {
      ...{ atS: edgeS, reachS: 90, hold: 'before' },
      ...{ holdRateMps: HOLD_RATE_MPS, accelerationMps2: motion.accelMps2 },
    });
    if (at === null) throw new Error('nothing found');
    expectWithin(at.atS, edgeS, at.halfS, 'two standard errors');
    return { errorS: at.atS - edgeS, halfS: at.halfS };
  });
  const rms = Math.sqrt(found.reduce((sum, { errorS }) => sum + errorS ** 2, 0) / found.length);
  expect(rms).toBeLessThan(0.4);
  // A drift of which only the size is known makes it 1.5 s (measured).
  expect(found.map(({ halfS }) => halfS).sort((a, b) => a - b)[2]).toBeLessThan(1.3);
});

test('a hold that lies in the band of its rate has an edge known to seconds', () => {
  const options = { holdDwellS: 10, holdCrossSpeedMps: null, endS: 200, endHalfS: 1 };
  const runs = findMotionRuns(flown(1), { ...options, ...PLAN });
  expect(runs.map(({ motion }) => motion)).toEqual(['hold', 'closing']);
  const [, move] = runs;
  expect(move?.startHalfS).toBeLessThan(4);
  expectWithin(move?.startS, EDGE_S, 1.5 * (move?.startHalfS ?? 0), 'three standard errors');
});

/** By reasoning: round the port at one distance, from 100 s on; only the speed across tells when, 0.05 m/s at 103.3 s. */
test('the edge of a crossing is that of the speed across: the range says nothing about it', () => {
  for (let seed = 1; seed <= 6; seed++) {
    const random = seededRandom(seed);
    const motion = motionAlongAxis({
      tS: rowsTo(300, 0.5),
      axialM: () => 150,
      closingMps: () => 0,
      sdMps: 0.01,
    });
    const crossMps = motion.tS.map((atS) => 0.3 * Math.min(1, Math.max(0, (atS - 100) / 20)));
    const values = motion.rangeM.map((trueM) => trueM + 0.15 * gaussian(random));
    const round: MotionEstimate = {
      ...motion,
      ...{ crossMps, crossSdMps: crossMps.map(() => 0.06) },
      samples: new Map([['range', takeSamples(motion.tS, values, null)]]),
      ...{ channels: ['range'], basis: 'range-only', rateIsDerived: true },
    };
    const options = { ...PLAN, holdDwellS: 10, holdCrossSpeedMps: 0.05, endS: 300, endHalfS: 0 };
    const [hold, crossing] = findMotionRuns(round, options);
    expect([hold?.motion, crossing?.motion]).toEqual(['hold', 'crossing']);
    expectWithin(crossing?.startS, 100 + 20 / 6, 0.01, 'straight lines between rows');
  }
});

/** From 0.25 m/s, in proportion to what is left. */
function decaying(atS: number): readonly [leftM: number, rateMps: number] {
  const rateMps = 0.25 * Math.min(1, Math.exp((100 - atS) / 30));
  return [30 * rateMps + 0.25 * Math.max(0, 100 - atS), rateMps];
}

/** From 0.32 m/s at 0.01 m/s2 until it is 0.16 m/s at 116 s, then in proportion to what is left. */
function bent(atS: number): readonly [leftM: number, rateMps: number] {
  if (atS >= 116) return [2.56 * Math.exp((116 - atS) / 16), 0.16 * Math.exp((116 - atS) / 16)];
  const inS = Math.min(16, 116 - atS);
  const leftM = 2.56 + 0.16 * inS + 0.005 * inS * inS + 0.32 * Math.max(0, 100 - atS);
  return [leftM, 0.16 + 0.01 * inS];
}

/** Closed form: a rate that decays over T from v on at t passes 0.02 m/s at t + T ln(v / 0.02). */
test.each([
  ['from its start', decaying, 100 + 30 * Math.log(0.25 / HOLD_RATE_MPS), 0.03],
  ['after it was braked along a line', bent, 116 + 16 * Math.log(0.16 / HOLD_RATE_MPS), 0.15],
])(
  'a rate that decays into a hold %s passes the hold rate where it does, over 10 seeds',
  (_, way, passesS, noiseM) => {
    let sumS = 0;
    for (let seed = 1; seed <= 10; seed++) {
      const random = seededRandom(seed);
      const motion = motionAlongAxis({
        tS: rowsTo(300, 1),
        axialM: (atS) => 40 + way(atS)[0],
        closingMps: (atS) => way(atS)[1],
        sdMps: 0.05,
      });
      const values = motion.rangeM.map((trueM) => trueM + noiseM * gaussian(random));
      const samples = new Map([['range', takeSamples(motion.tS, values, null)]]);
      const found = edgeByPosition(
        { ...motion, samples, channels: ['range'], basis: 'range-only', rateIsDerived: true },
        { ...{ atS: passesS - 12, reachS: 90, hold: 'after' }, ...PLAN },
      );
      if (found === null) throw new Error('nothing found');
      expectWithin(found.atS, passesS, 1.5 * found.halfS, 'three standard errors');
      expect(found.halfS).toBeLessThan(7);
      sumS += found.atS - passesS;
    }
    expectWithin(sumS / 10, 0, 1.2, 'two standard errors of a mean of 10');
  },
);
