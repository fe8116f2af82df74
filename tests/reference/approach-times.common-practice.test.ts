import { expect, test } from 'vitest';
import { exponentialApproachS, moveDurationS, stoppingDistanceM } from '@/lib/core/motion/braking';
import { expectWithin } from '../support/expect-within';

/** Facts of the trade below are common practice, no source, where nothing else is named. */
const ACCEL_MPS2 = 0.01;

/** Common practice, no source. */
test('at 0.3 m/s, 80 m take some 4.4 minutes', () => {
  expectWithin(80 / 0.3 / 60, 4.4, 0.05, 'one decimal');
  expectWithin(moveDurationS(80, 0.3, 0.1) / 60, 4.4, 0.2, 'ramps of 3 s do not change it');
});

/** Common practice, no source. */
test('at 0.3 m/s, 40 m take a little over two minutes', () => {
  const minutes = moveDurationS(40, 0.3, 0.1) / 60;
  expect(minutes).toBeGreaterThan(2);
  expect(minutes).toBeLessThan(2.5);
});

/** Common practice, no source: the last 20 m go at under 0.1 m/s. */
test('the last 20 m at under 0.1 m/s take longer than 200 s', () => {
  expect(20 / 0.099).toBeGreaterThan(200);
});

/** Common practice, no source. */
test('10 m at just under 0.1 m/s take about 1 min 45 s', () => {
  expectWithin(10 / 0.095, 105, 5, 'about');
});

/** Common practice, no source: crew commands are cut off about two metres out, some 20 s before. */
test('the cut-off two metres out comes some 20 s before contact at just under 0.1 m/s', () => {
  expectWithin(2 / 0.095, 20, 2, 'some 20 s');
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
