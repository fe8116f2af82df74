import { expect, test } from 'vitest';
import { passTimes, type RunColumn, valuesAt } from '@/lib/core/compare/run-column';
import { expectWithin } from '../../support/expect-within';

/** From 10 m to 4 m, back to 7 m, then in to 0 m, a row a second at 1 m/s. */
const wayM = [10, 9, 8, 7, 6, 5, 4, 5, 6, 7, 6, 5, 4, 3, 2, 1, 0];
const distance: RunColumn = {
  tS: Float64Array.from(wayM, (_, row) => row),
  values: Float64Array.from(wayM),
  spans: [{ from: 0, to: wayM.length }],
};
const whole = { fromS: 0, toS: 16 };

test('a distance passed twice inward counts where it is passed last', () => {
  const gridM = Float64Array.of(0.5, 5.25, 6, 8.5);
  const times = passTimes(distance, { ...whole, gridM, sense: 'inward' });
  expect([...times]).toEqual([15.5, 10.75, 10, 1.5]);
});

test('outward passes are found where the distance grows', () => {
  const times = passTimes(distance, { ...whole, gridM: Float64Array.of(5.5, 9), sense: 'outward' });
  expect([...times]).toEqual([7.5, Number.NaN]);
});

test('nothing outside the stretch is a passage', () => {
  const gridM = Float64Array.of(5, 9);
  const times = passTimes(distance, { fromS: 4, toS: 8, gridM, sense: 'inward' });
  expect([...times]).toEqual([5, Number.NaN]);
});

test('nothing is passed inside a gap', () => {
  const holed: RunColumn = {
    ...distance,
    spans: [
      { from: 0, to: 13 },
      { from: 15, to: 17 },
    ],
  };
  const times = passTimes(holed, { ...whole, gridM: Float64Array.of(0.5, 2.5), sense: 'inward' });
  expect([...times]).toEqual([15.5, Number.NaN]);
  expect([...valuesAt(holed, Float64Array.of(11.5, 13.5, 15, Number.NaN))]).toEqual([
    4.5,
    Number.NaN,
    1,
    Number.NaN,
  ]);
});

test('a run sampled more finely gives the same values', () => {
  const slow = Float64Array.from({ length: 41 }, (_, i) => i);
  const fast = Float64Array.from({ length: 401 }, (_, i) => i / 10);
  const column = (tS: Float64Array): RunColumn => ({
    tS,
    values: tS.map((atS) => 40 - atS),
    spans: [{ from: 0, to: tS.length }],
  });
  const gridM = Float64Array.from({ length: 39 }, (_, i) => i + 0.5);
  const ask = { fromS: 0, toS: 40, gridM, sense: 'inward' } as const;
  const [a, b] = [passTimes(column(slow), ask), passTimes(column(fast), ask)];
  for (const [place, atS] of a.entries())
    expectWithin(atS, b[place] ?? Number.NaN, 1e-9, 'straight lines');
});
