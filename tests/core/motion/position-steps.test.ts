import { expect, test } from 'vitest';
import { findPositionSteps } from '@/lib/core/motion/position-steps';

const STEP_S = 0.2;
const ROWS = 600;

/** Two minutes of rows; the offset steps by `sizeM` half way, the velocity by `swingMps`. */
function stretch(sizeM: number, swingMps: number) {
  const half = ROWS / 2;
  const column = (at: (row: number) => number) =>
    Float64Array.from({ length: ROWS }, (_, row) => at(row));
  return {
    tS: column((row) => row * STEP_S),
    // A small regular ripple stands for the noise, so that the fit has something to weigh.
    offsetM: column((row) => (row >= half ? sizeM : 0) + 0.002 * (row % 2 === 0 ? 1 : -1)),
    sdM: column(() => 0.002),
    velocityMps: column((row) => (row >= half ? swingMps : 0)),
  };
}

test('a step in position at steady velocity is found with its size', () => {
  const steps = findPositionSteps(stretch(0.5, 0));
  expect(steps).toHaveLength(1);
  expect(steps[0]?.sizeM).toBeCloseTo(0.5, 2);
  expect(steps[0]?.row).toBe(ROWS / 2);
});

test('an offset no larger than a swing of the velocity explains is no step', () => {
  expect(findPositionSteps(stretch(0.02, 0.08))).toEqual([]);
  expect(findPositionSteps(stretch(0.02, 0.001))).toHaveLength(1);
});

test('numbers without noise have no steps of their last digit', () => {
  const bare = (sizeM: number) => {
    const rows = stretch(sizeM, 0);
    return { ...rows, offsetM: rows.offsetM.map((_, row) => (row >= ROWS / 2 ? sizeM : 0)) };
  };
  const exact = (sizeM: number) => ({ ...bare(sizeM), sdM: new Float64Array(ROWS).fill(1e-15) });
  expect(findPositionSteps(exact(1e-12))).toEqual([]);
  expect(findPositionSteps(exact(0.5))).toHaveLength(1);
});
