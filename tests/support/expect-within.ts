import { expect } from 'vitest';

/** Asserts a number within a tolerance and says why the tolerance is what it is. */
export function expectWithin(
  actual: number | null | undefined,
  expected: number,
  tolerance: number,
  reason: string,
): void {
  const given = typeof actual === 'number' ? actual : Number.NaN;
  const difference = Math.abs(given - expected);
  expect(
    difference <= tolerance,
    `got ${given}, expected ${expected} within ${tolerance} (${reason})`,
  ).toBe(true);
}
