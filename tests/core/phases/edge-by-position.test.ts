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

function closingMps(atS: number): number {
  return Math.min(RATE_MPS, Math.max(0, ACCEL_MPS2 * (atS - START_S)));
}

function wayM(atS: number): number {
  const u = Math.min(Math.max(0, atS - START_S), RATE_MPS / ACCEL_MPS2);
  return (ACCEL_MPS2 * u * u) / 2 + RATE_MPS * Math.max(0, atS - START_S - RATE_MPS / ACCEL_MPS2);
}

/** A range of 2 Hz with noise of 0.3 m whose rate is known to 0.05 m/s: the whole hold may be a move. */
function flown(seed: number, backwards: 'no' | 'yes' = 'no'): MotionEstimate {
  const random = seededRandom(seed);
  const time = (atS: number): number => (backwards === 'yes' ? 200 - atS : atS);
  const rows = rowsTo(200, 0.5);
  const motion = motionAlongAxis({
    tS: rows,
    axialM: (atS) => 200 - wayM(time(atS)),
    closingMps: (atS) => closingMps(time(atS)) * (backwards === 'yes' ? -1 : 1),
    sdMps: 0.05,
  });
  const values = motion.rangeM.map((trueM) => trueM + 0.3 * gaussian(random));
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
  const [out, into] = [flown(3), flown(3, 'yes')];
  const a = edgeByPosition(out, { ...{ atS: EDGE_S, reachS: 90, hold: 'before' }, ...PLAN });
  const edge = { atS: 200 - EDGE_S, reachS: 90, hold: 'after' } as const;
  const b = edgeByPosition(into, { ...edge, ...PLAN });
  expectWithin(b?.atS, 200 - EDGE_S, 1.5 * (b?.halfS ?? 0), 'three standard errors');
  expectWithin(b?.halfS, a?.halfS ?? 0, 1.5, 'other noise');
});

test('a hold that lies in the band of its rate has an edge known to seconds', () => {
  const options = { holdDwellS: 10, holdCrossSpeedMps: null, endS: 200, endHalfS: 1 };
  const runs = findMotionRuns(flown(1), { ...options, ...PLAN });
  expect(runs.map(({ motion }) => motion)).toEqual(['hold', 'closing']);
  const [, move] = runs;
  expect(move?.startHalfS).toBeLessThan(4);
  expectWithin(move?.startS, EDGE_S, 1.5 * (move?.startHalfS ?? 0), 'three standard errors');
});
