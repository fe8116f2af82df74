import { expect, test } from 'vitest';
import { calibrationOf, studyCase } from '../../calibration/study';

/** The whole study is a part of the soak; these few flights only hold that nothing broke it. */
const SEEDS = [1, 2, 3, 4, 5, 6];

test.each(['white', 'correlated'] as const)(
  'with velocity and %s noise the edges of phases lie inside their intervals, which are not idle',
  (noise) => {
    const kind = { velocity: 'measured', noise, excess: 'ramped' } as const;
    const { tallies, otherPhases } = studyCase(kind, SEEDS);
    expect(otherPhases).toEqual([]);
    const edges = tallies.get('all edges');
    if (edges === undefined) throw new Error('no edges');
    const { count, inside, ratio } = calibrationOf(edges);
    // Of 18 intervals of 95 %, fewer than 15 hold the truth once in 100.
    expect(count).toBe(18);
    expect(inside).toBeGreaterThanOrEqual(15 / 18);
    expect(ratio).toBeLessThan(2.5);
  },
);

test('a tally says the share inside, the middle half-width and the quantile of the error', () => {
  const errors = [0, 1, -2, 3, -4];
  const calibration = calibrationOf({ errors, halves: [2.5, 2.5, 2.5, 2.5, 3.5] });
  expect(calibration.inside).toBe(0.6);
  expect(calibration.medianHalf).toBe(2.5);
  // Type 7 quantile of 0, 1, 2, 3, 4 at 0.95.
  expect(calibration.error95).toBeCloseTo(3.8, 12);
});
