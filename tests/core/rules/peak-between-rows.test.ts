import { expect, test } from 'vitest';
import { underWorstRow } from '@/lib/core/rules/peak-between-rows';
import { expectWithin } from '../../support/expect-within';

/** By hand: rows a second apart of a room that falls and rises by 0.1 a second, least where `lowestS` says. */
const lineOf = (roomAt: (atS: number) => number) => {
  const tS = Float64Array.from({ length: 21 }, (_, row) => row);
  return { tS, room: tS.map(roomAt), pieces: [{ from: 0, to: 21 }] };
};

test('a corner between two rows lies under the worst of them by what the lines beside it say', () => {
  for (const lowestS of [10, 10.25, 10.5, 9.6]) {
    const line = lineOf((atS) => 0.3 + 0.1 * Math.abs(atS - lowestS));
    const row = Math.round(lowestS);
    const under = (line.room[row] ?? 0) - 0.3;
    expectWithin(underWorstRow(line, row, 0), under, 1e-9, 'two lines and where they meet');
    expect(underWorstRow(line, row, 0.1)).toBe(0);
  }
});

test('a room that leaps down and comes back evenly may have begun to come back a row earlier', () => {
  const line = lineOf((atS) => (atS < 10 ? 1 : 0.3 + 0.05 * (atS - 10)));
  expectWithin(underWorstRow(line, 10, 0), 0.05, 1e-9, 'one row of the way back');
});

test('a room that is level at its worst has nothing under it', () => {
  expect(
    underWorstRow(
      lineOf((atS) => Math.max(0.3, Math.abs(atS - 10) / 10)),
      10,
      0,
    ),
  ).toBe(0);
});
