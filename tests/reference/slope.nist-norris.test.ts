/**
 * Source: NIST Statistical Reference Datasets, linear regression, "Norris" (36 observations, lower level
 * of difficulty): certified slope 1.00211681802045, its standard deviation 0.429796848199937E-03.
 */
import { expect, test } from 'vitest';
import { differenceFigures } from '@/lib/core/findings/difference-figures';
import { rateAt } from '@/lib/core/series/rate-at';
import { expectWithin } from '../support/expect-within';

const NORRIS =
  '0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3 449.1 448.6 778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0 448.9 447.5 10.8 11.6 557.7 556.0 228.3 228.1 998.0 995.8 888.8 887.6 119.6 120.2 0.3 0.3 0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0 10.2 11.1 117.6 118.3 228.9 229.2 668.4 669.1 449.2 448.9 0.2 0.5';

const NUMBERS = NORRIS.split(' ').map(Number);
const POINTS = Array.from({ length: 36 }, (_, index) => ({
  y: NUMBERS[2 * index] ?? Number.NaN,
  x: NUMBERS[2 * index + 1] ?? Number.NaN,
})).sort((a, b) => a.x - b.x);
const SAMPLES = {
  tS: Float64Array.from(POINTS, (point) => point.x),
  values: Float64Array.from(POINTS, (point) => point.y),
};

test('the slope between two cursors and its error are those certified for Norris', () => {
  const { slope } = differenceFigures(
    {
      key: 'y',
      unit: 'm',
      ...SAMPLES,
      sources: [],
      rows: 'measured',
    },
    { fromS: 0, toS: 1000 },
  );
  expectWithin(slope.value ?? Number.NaN, 1.00211681802045, 1e-12, 'certified to 15 digits');
  const error = (slope.uncertainty?.random ?? Number.NaN) / 1.959964;
  expectWithin(error, 0.429796848199937e-3, 1e-13, 'certified to 15 digits');
  expect(slope.unit).toBe('m/s');
});

test('the rate at the cursor is the slope certified for Norris, wherever the cursor stands', () => {
  for (const atS of [0, 500, 999])
    expectWithin(rateAt(SAMPLES, atS, 1000), 1.00211681802045, 1e-12, 'certified to 15 digits');
});
