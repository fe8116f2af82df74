/**
 * Times of approach moves that people of the trade expect, checked on whole reconstructions: the motion
 * is made by closed forms with noise, the phases and the contact are found from its samples.
 * Facts below are common practice, no source, where nothing else is named.
 */
import { expect, test } from 'vitest';
import { exponentialApproachS, moveDurationS, stoppingDistanceM } from '@/lib/core/motion/braking';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Plan } from '@/lib/core/session/plan';
import { expectWithin } from '../support/expect-within';
import { axialMotion, FLOWN_PLAN, flownSession, TEST_ENGINE } from '../support/flown-session';

const ACCEL_MPS2 = 0.01;

/** A hold, a move at a constant rate with short ramps, and what follows. */
function flown(move: Readonly<{ fromM: number; toM: number; rateMps: number }>) {
  const { fromM, toM, rateMps } = move;
  const accelMps2 = 0.1;
  const rampS = rateMps / accelMps2;
  const stop = toM === 0 ? [] : [{ forS: rampS, accelMps2 }, { forS: 60 }];
  const runM = fromM - toM - rateMps * rampS * (toM === 0 ? 0.5 : 1);
  const axial = axialMotion(fromM, [
    { forS: 60 },
    { forS: rampS, accelMps2: -accelMps2 },
    { forS: runM / rateMps },
    ...stop,
  ]);
  const plan: Plan = {
    ...FLOWN_PLAN,
    accelerationMps2: accelMps2,
    steps: [
      { kind: 'hold', id: 'wait', holdM: fromM, toleranceM: 2, plannedS: 60 },
      {
        kind: 'move',
        id: 'move',
        toM,
        plannedS: (fromM - toM) / rateMps,
        closingRateMps: [
          [fromM, rateMps],
          [toM, rateMps],
        ],
        toleranceMps: 0.03,
      },
    ],
  };
  const durationS = 180 + (fromM - toM) / rateMps;
  const input = flownSession({ axial, plan, durationS, lateralM: [0, 90] });
  const { reconstruction, derived } = reconstruct(input, TEST_ENGINE);
  const step = reconstruction.steps.find(({ id }) => id === 'move');
  return { step, derived, contactS: reconstruction.contact?.timeS.value ?? Number.NaN };
}

/** Session time at which the range is first at or under a distance. */
function reachedS({ derived }: ReturnType<typeof flown>, rangeM: number): number {
  const range = derived.columns.find(({ name }) => name === 'range')?.values;
  const row = range?.findIndex((value) => value <= rangeM) ?? -1;
  return derived.tS[row] ?? Number.NaN;
}

const FINAL = flown({ fromM: 30, toM: 0, rateMps: 0.095 });

test('80 m at 0.3 m/s take some 4.4 minutes', () => {
  const { step } = flown({ fromM: 100, toM: 20, rateMps: 0.3 });
  const minutes = (step?.durationS?.value ?? Number.NaN) / 60;
  expectWithin(minutes, 4.4, 0.15, 'one decimal, and 3 s of speeding up and slowing down');
});

test('40 m at 0.3 m/s take a little over two minutes', () => {
  const { step } = flown({ fromM: 60, toM: 20, rateMps: 0.3 });
  const minutes = (step?.durationS?.value ?? Number.NaN) / 60;
  expect(minutes).toBeGreaterThan(2);
  expect(minutes).toBeLessThan(2.5);
});

test('the last 20 m at under 0.1 m/s take longer than 200 s', () => {
  expect(FINAL.contactS - reachedS(FINAL, 20)).toBeGreaterThan(200);
});

test('10 m at just under 0.1 m/s take about 1 min 45 s', () => {
  expectWithin(reachedS(FINAL, 10) - reachedS(FINAL, 20), 105, 5, 'about');
});

/** Crew commands are cut off about two metres out. */
test('two metres out is some 20 s before contact at just under 0.1 m/s', () => {
  expectWithin(FINAL.contactS - reachedS(FINAL, 2), 20, 2, 'some 20 s');
});

/** Source: elementary; stopping from 0.27 m/s at 0.01 m/s2 takes 3.645 m. */
test('stopping from 0.27 m/s at 0.01 m/s2 takes 3.645 m', () => {
  expectWithin(stoppingDistanceM(0.27, ACCEL_MPS2), 3.645, 1e-12, 'exact');
});

/** Source: elementary; rate = 0.01 1/s x range from 200 m to 2 m takes ln(100) / 0.01 s. */
test('an exponential approach from 200 m to 2 m at 0.01 1/s takes 460.517 s', () => {
  expectWithin(exponentialApproachS(200, 2, 0.01), 460.517, 5e-4, 'half the last digit');
});

test('a way too short to reach the rate is speeding up and slowing down alone', () => {
  expectWithin(moveDurationS(1, 0.3, ACCEL_MPS2), 20, 1e-12, '2 sqrt(1 / 0.01)');
});
