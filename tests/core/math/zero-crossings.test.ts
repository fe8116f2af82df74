import { expect, test } from 'vitest';
import { zeroCrossings } from '@/lib/core/math/zero-crossings';
import { seededRandom } from '../../support/seeded-random';

const at = (column: ArrayLike<number>, row: number): number => column[row] ?? Number.NaN;

test('crossings of both directions lie where the straight line between two rows is at zero', () => {
  const tS = Float64Array.of(0, 1, 3, 4, 5);
  // By hand: 2 down to -2 over a second, -2 up to 6 over two, 6 down to 0 (which is not below), -1 after.
  const { rows, atS } = zeroCrossings(tS, Float64Array.of(2, -2, 6, 0, -1), 0, 5);
  expect([...rows]).toEqual([1, 2, 4]);
  expect([...atS]).toEqual([0.5, 1.5, 4]);
});

test('every change of sign is found, and none besides, however many there are', () => {
  const random = seededRandom(3);
  const values = Float64Array.from({ length: 9000 }, () => random() - 0.5);
  const tS = values.map((_, row) => row / 8);
  const wanted = [...values.keys()].filter(
    (row) => row > 100 && row < 8800 && at(values, row - 1) < 0 !== at(values, row) < 0,
  );
  const { rows, atS } = zeroCrossings(tS, values, 100, 8800);
  expect([...rows]).toEqual(wanted);
  atS.forEach((when, k) => {
    const row = at(wanted, k);
    const share = (when - at(tS, row - 1)) / (at(tS, row) - at(tS, row - 1));
    const there = at(values, row - 1) + share * (at(values, row) - at(values, row - 1));
    expect(Math.abs(there)).toBeLessThan(1e-9);
  });
});

test('a stretch on one side, or of no rows, has no crossings', () => {
  const tS = Float64Array.of(0, 1, 2);
  expect(zeroCrossings(tS, Float64Array.of(-1, -2, -1), 0, 3).rows).toHaveLength(0);
  expect(zeroCrossings(tS, Float64Array.of(-1, 2, -1), 1, 1).rows).toHaveLength(0);
});
