/**
 * Source: H. Theil, "Economic Forecasts and Policy", 2nd ed. (1961): the bounded coefficient of
 * inequality and the shares of the mean square error. The forecast 0, 1, 2, 3, 4 against 0, 2, 2, 4, 5
 * is worked by hand: differences 0, -1, 0, -1, -1, mean square 3/5; mean squares of the two 30/5 and
 * 49/5; means 2 and 2.6.
 */
import { expect, test } from 'vitest';
import { pairScores } from '@/lib/core/compare/pair-scores';
import { expectWithin } from '../support/expect-within';

const forecast = Float64Array.of(0, 1, 2, 3, 4);
const actual = Float64Array.of(0, 2, 2, 4, 5);

test('the worked pair has U = 0.138817 and shares 0.6, 0.180781, 0.219219', () => {
  const scores = pairScores(forecast, actual);
  expectWithin(scores.rms, Math.sqrt(0.6), 1e-15, 'exact arithmetic');
  expectWithin(
    scores.theil,
    Math.sqrt(0.6) / (Math.sqrt(6) + Math.sqrt(9.8)),
    1e-15,
    'exact arithmetic',
  );
  expectWithin(scores.theil, 0.13881698276, 5e-12, 'printed to 11 digits');
  expectWithin(scores.theilBias, 0.6, 1e-12, 'exact arithmetic');
  expectWithin(scores.theilVariance, 0.180781329, 5e-10, 'printed to 9 digits');
  expectWithin(scores.theilCovariance, 0.219218671, 5e-10, 'printed to 9 digits');
});

test('the shares add up to one whatever the columns', () => {
  const a = Float64Array.from({ length: 50 }, (_, i) => Math.sin(i) + 0.1 * i);
  const b = Float64Array.from({ length: 50 }, (_, i) => Math.cos(1.3 * i));
  const { theilBias, theilVariance, theilCovariance } = pairScores(a, b);
  expectWithin(theilBias + theilVariance + theilCovariance, 1, 1e-12, 'an identity');
});

test('equal columns have U = 0, opposite ones and one of zeros U = 1', () => {
  expect(pairScores(actual, actual).theil).toBe(0);
  expectWithin(
    pairScores(
      actual,
      actual.map((each) => -each),
    ).theil,
    1,
    1e-15,
    'exact',
  );
  expectWithin(pairScores(actual, new Float64Array(5)).theil, 1, 1e-15, 'exact');
});

test('places without a value in either column do not count', () => {
  const holed = Float64Array.of(0, Number.NaN, 2, 4, 5);
  const scores = pairScores(forecast, holed);
  expect(scores).toMatchObject({ places: 4, bias: -0.5, peak: -1, peakPlace: 3 });
  expect(pairScores(new Float64Array(0), new Float64Array(0)).rms).toBeNaN();
});
