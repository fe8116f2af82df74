import { expect, test } from 'vitest';
import { rateAt, rateReachS } from '@/lib/core/series/rate-at';
import { slopes } from '@/lib/core/series/seek-stretches';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/** Ten minutes at 10 Hz. */
const STEP_S = 0.1;
const tS = Float64Array.from({ length: 6000 }, (_, row) => row * STEP_S);

test('a straight line has its slope everywhere, between samples and at both ends', () => {
  const values = tS.map((t) => 250 - 0.08 * t);
  for (const atS of [0, 0.04, 123.456, 599.9])
    expectWithin(rateAt({ tS, values }, atS, STEP_S), -0.08, 1e-12, 'doubles of some hundred');
});

test('at a sample it is the rate that a search by rate looks for', () => {
  const values = tS.map((t) => Math.sin(t / 7) + 0.1 * Math.sin(3 * t));
  const sought = slopes({ tS, values });
  for (const row of [0, 57, 3001, 5999])
    expectWithin(rateAt({ tS, values }, tS[row] ?? 0, STEP_S), sought[row] ?? 0, 1e-12, 'one sum');
});

/**
 * Source: the variance of a slope of least squares is sigma^2 over the sum of squared distances, any
 * textbook of regression (from memory); for n even samples over a span L that is 12 sigma^2 / (n L^2).
 */
test('noise of the samples goes into the rate as least squares say', () => {
  const random = seededRandom(5);
  const values = tS.map((t) => 0.5 * t + 0.02 * gaussian(random));
  const rates = Array.from({ length: 280 }, (_, at) =>
    rateAt({ tS, values }, 2 + 2.1 * at, STEP_S),
  );
  const away = rates.map((rate) => rate - 0.5);
  const sd = Math.sqrt(away.reduce((sum, each) => sum + each * each, 0) / away.length);
  const rows = 21;
  const expected = (0.02 * Math.sqrt(12 / rows)) / Math.sqrt(STEP_S ** 2 * (rows ** 2 - 1));
  expectWithin(sd / expected, 1, 0.17, 'four times 1 / sqrt(2 x 280)');
});

test('across a step there is no rate, beside it there is', () => {
  const values = tS.map((t) => (t < 300 ? 4 : 5));
  expect(rateAt({ tS, values }, 300, STEP_S)).toBeNaN();
  expect(rateAt({ tS, values }, 299.2, STEP_S)).toBeNaN();
  expect(rateAt({ tS, values }, 298.5, STEP_S)).toBe(0);
  const random = seededRandom(11);
  const jumps = tS.map((t) => 0.1 * t + (t < 300 ? 0 : 2) + 0.02 * gaussian(random));
  expect(rateAt({ tS, values: jumps }, 300.3, STEP_S)).toBeNaN();
  expectWithin(rateAt({ tS, values: jumps }, 303, STEP_S), 0.1, 0.03, 'four times its noise');
});

test('noise alone is hardly ever taken for a step', () => {
  const random = seededRandom(3);
  const values = tS.map(() => gaussian(random));
  const absent = Array.from({ length: 290 }, (_, at) =>
    rateAt({ tS, values }, 2 + 2.05 * at, STEP_S),
  ).filter(Number.isNaN);
  expect(absent.length).toBeLessThanOrEqual(3);
});

test('over a gap and beyond the data there is no rate, beside a gap it rests on one side', () => {
  const rows = Array.from(tS.keys()).filter((row) => !(row >= 1000 && row < 1009));
  const cut = {
    tS: Float64Array.from(rows, (row) => tS[row] ?? 0),
    values: Float64Array.from(rows, (row) => 0.3 * (tS[row] ?? 0)),
  };
  for (const atS of [99.95, 100.4, 100.8, 601, -0.7])
    expect(rateAt(cut, atS, STEP_S), `${atS} s`).toBeNaN();
  expectWithin(rateAt(cut, 99.5, STEP_S), 0.3, 1e-12, 'a line');
  expectWithin(rateAt(cut, 102.1, STEP_S), 0.3, 1e-12, 'a line');
});

test('a slow channel in fast rows has the rate of its own samples', () => {
  const values = tS.map((t, row) => (row % 30 === 0 ? 2 * t : Number.NaN));
  expect(rateReachS(3)).toBe(6);
  expectWithin(rateAt({ tS, values }, 61.7, 3), 2, 1e-12, 'a line');
  expect(rateAt({ tS: Float64Array.of(0, 1), values: Float64Array.of(1, 2) }, 0.5, 1)).toBeNaN();
});
