import { expect, test } from 'vitest';
import {
  plannedElapsedS,
  plannedLengthS,
  plannedStartM,
  plannedWay,
} from '@/lib/core/approach/planned-way';
import { planClock, timeToGoByRateS } from '@/lib/core/approach/time-to-go';
import { exponentialApproachS, moveDurationS } from '@/lib/core/motion/braking';
import type { MoveStep, Plan } from '@/lib/core/session/plan';
import { expectWithin } from '../../support/expect-within';
import { FLOWN_PLAN } from '../../support/flown-session';

function planOf(steps: Plan['steps']): Plan {
  return { ...FLOWN_PLAN, steps };
}

/** Source: closed form of a move with ramps, elementary kinematics (recomputed). */
test('a move at one rate between holds takes its way over the rate and one ramp more', () => {
  const way = plannedWay(FLOWN_PLAN, 1);
  if (way === null) throw new Error('step 1 is a move');
  expectWithin(plannedLengthS(way), moveDurationS(70, 0.2, 0.01), 0.01, 'parts of the way');
  // 20 s of ramp cover 2 m: from there to 50 m it is 48 m at 0.2 m/s.
  expectWithin(plannedElapsedS(way, 50), 20 + 48 / 0.2, 0.01, 'as above');
  expect(plannedElapsedS(way, 101)).toBe(0);
  expect(plannedElapsedS(way, 29)).toBe(plannedLengthS(way));
});

/** Source: closing rate in proportion to range takes ln(from / to) / lambda (elementary). */
test('a rate in proportion to range takes the logarithm of the ranges', () => {
  const move: MoveStep = {
    kind: 'move',
    id: 'in',
    toM: 20,
    plannedS: 1,
    closingRateMps: [
      [20, 0.1],
      [200, 1],
    ],
    toleranceMps: 0.01,
  };
  // Between moves nothing stands still, so there is no ramp.
  const way = plannedWay(planOf([{ ...move, id: 'before', toM: 200 }, move]), 1);
  if (way === null) throw new Error('step 1 is a move');
  const exact = exponentialApproachS(200, 20, 0.005);
  expectWithin(
    plannedLengthS(way),
    exact,
    exact * 1e-4,
    'rate taken as linear in time over a part',
  );
});

test('time to go by plan is the rest of the step and the planned lengths after it', () => {
  const onHold = { stepIndex: 2, sinceS: 20, rangeM: 30 };
  expect(planClock(FLOWN_PLAN)(onHold)).toBe(400 + 40);
  // A hold that overran has no rest, and what was lost is not taken off the steps after it.
  expect(planClock(FLOWN_PLAN)({ ...onHold, sinceS: 500 })).toBe(400);
  const way = plannedWay(FLOWN_PLAN, 3);
  if (way === null) throw new Error('step 3 is a move');
  const halfWay = planClock(FLOWN_PLAN)({ stepIndex: 3, sinceS: 0, rangeM: 15 });
  expectWithin(halfWay, 15 / 0.08, 0.01, 'no braking before the port');
});

test('time to go by rate is distance over rate, with the errors of both', () => {
  const way = { leftM: 10, leftSdM: 0.03, rateMps: 0.1, rateSdMps: 0.002 };
  const found = timeToGoByRateS(way, 0.02);
  expectWithin(found?.valueS, 100, 1e-9, 'a quotient');
  // Relative errors add in squares: 0.3 % and 2 % of 100 s.
  expectWithin(found?.sdS, Math.hypot(0.3, 2), 1e-9, 'a quotient');
  expect(timeToGoByRateS({ ...way, rateMps: 0.005 }, 0.02)).toBeNull();
  expect(timeToGoByRateS({ ...way, rateMps: -0.1 }, 0.02)).toBeNull();
  expect(timeToGoByRateS({ ...way, leftM: -0.1 }, 0.02)).toBeNull();
});

/** Source: elementary; a plan's profile may reach farther in than the move, or say one rate for all ranges. */
test('a first move inwards comes from the outermost range of its profile, wherever that ends', () => {
  const move = (closingRateMps: MoveStep['closingRateMps']): Plan =>
    planOf([{ kind: 'move', id: 'in', toM: 30, plannedS: 1, closingRateMps, toleranceMps: 0.01 }]);
  const reaching = move([
    [0, 0.2],
    [250, 0.2],
  ]);
  expect(plannedStartM(reaching, 0)).toBe(250);
  const way = plannedWay(reaching, 0);
  // From rest at 0.01 m/s2, 220 m at 0.2 m/s: half of the 20 s of ramp is lost.
  expectWithin(way === null ? null : plannedLengthS(way), 220 / 0.2 + 10, 0.01, 'parts of the way');
  expect(plannedStartM(move([[0, 0.2]]), 0)).toBe(Number.POSITIVE_INFINITY);
  expect(plannedWay(move([[0, 0.2]]), 0)).toBeNull();
  expect(plannedStartM(move([[10, -0.2]]), 0)).toBe(10);
});
