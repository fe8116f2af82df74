import { expect, test } from 'vitest';
import { takeSamples, withParts } from '@/lib/core/series/samples';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const tS = Float64Array.from({ length: 2000 }, (_, row) => row * 0.2);

/** By arithmetic: rounding to a step q is off by up to q / 2, uniformly: standard deviation q / sqrt(12). */
test('a distance written to 0.1 m is known no better than its digits tell, though most rows repeat the one before', () => {
  const values = tS.map((atS) => Math.round(10 * (30 - 0.07 * atS)) / 10);
  const { sd } = takeSamples(tS, values, null);
  for (const one of sd) expect(one).toBeGreaterThan(0.99 * (0.1 / Math.sqrt(12)));
});

test('digits finer than the noise add nothing to it', () => {
  const random = seededRandom(8);
  const exact = tS.map((atS) => 30 - 0.07 * atS + 0.02 * gaussian(random));
  const written = exact.map((value) => Math.round(1e4 * value) / 1e4);
  const [a, b] = [takeSamples(tS, exact, null), takeSamples(tS, written, null)];
  for (let row = 0; row < tS.length; row += 100)
    expect((b.sd[row] ?? 0) / (a.sd[row] ?? 1)).toBeCloseTo(1, 2);
});

test('even motion without noise, a start of it and a rate of two values are not taken for coarse digits', () => {
  const closing = (atS: number): number => (atS < 40 ? 0 : 0.3 * (atS - 40));
  const columns = [
    tS.map((atS) => 30 - 0.3 * atS),
    tS.map((atS) => 30 - closing(atS)),
    tS.map((atS) => (atS < 40 ? 0 : -0.3)),
  ];
  for (const values of columns)
    expect(Math.max(...takeSamples(tS, values, null).sd)).toBeLessThan(1e-6);
});

test('rates that jets make are not taken for coarse digits, a slow swing in few is', () => {
  const moves = tS.map((atS) => (atS % 130 < 60 ? 0 : atS < 200 ? -0.2 : -0.08));
  expect(Math.max(...takeSamples(tS, moves, null).sd)).toBeLessThan(1e-6);
  const swing = tS.map((atS) => Number((0.004 * Math.sin(atS / 20)).toFixed(3)));
  for (const one of takeSamples(tS, swing, null).sd)
    expect(one).toBeGreaterThan(0.99 * (0.001 / Math.sqrt(12)));
});

/** By the definition: the fourth difference of a slow sine is its size times (w dt)^4. */
test('a smooth swing in far rows is no noise', () => {
  const rows = Float64Array.from({ length: 1000 }, (_, row) => row);
  const swing = rows.map((atS) => 0.1 * Math.sin(atS / 20));
  const { sd, correlation } = takeSamples(rows, swing, null);
  expect(Math.max(...sd)).toBeLessThan(2e-7);
  expect(correlation).toBe(0);
});

test('rows that come more seldom for a while have a noise of their own', () => {
  const random = seededRandom(5);
  const seldom = Float64Array.from({ length: 1000 }, (_, row) => row);
  const often = Float64Array.from({ length: 4000 }, (_, row) => 1000 + row * 0.1);
  const rows = Float64Array.from([...seldom, ...often]);
  const noise = (atS: number): number => (atS < 1000 ? 0.3 : 0.01);
  const values = rows.map((atS) => noise(atS) * gaussian(random));
  const { sd } = takeSamples(rows, values, null);
  expectWithin(sd[400], 0.3, 0.09, 'a scatter over 256 rows errs by a tenth (1 sd)');
  expectWithin(sd[3000], 0.01, 0.003, 'likewise');
});

test('where jets roughen what is else rounding, slow noise does not grow with them', () => {
  const sd = Float64Array.from({ length: 100 }, (_, k) => (k < 80 ? 1e-8 : 1e-4));
  const samples = {
    ...{ tS: sd.map((_, k) => k), values: sd, sd, correlation: 0 },
    ...{ slowSd: null, slowS: 1, stepS: 1 },
  };
  const clean = withParts(samples, { white: 1, slow: 1e6, timeS: 20 });
  expect(Math.max(...(clean.slowSd ?? []))).toBeCloseTo(1e-5, 12);
  const noisy = withParts(samples, { white: 1, slow: 25, timeS: 20 });
  expect(Math.max(...(noisy.slowSd ?? []))).toBeCloseTo(5e-4, 12);
});

/** Mean of the noise told at a row over what it is there, over columns of 3000 rows. */
function toldAt(row: number, sdAt: (row: number) => number): number {
  let sum = 0;
  for (let seed = 1; seed <= 60; seed++) {
    const random = seededRandom(seed);
    const rows = Float64Array.from({ length: 3000 }, (_, k) => 0.2 * k);
    const { sd } = takeSamples(
      rows,
      rows.map((_, k) => sdAt(k) * gaussian(random)),
      null,
    );
    sum += (sd[row] ?? Number.NaN) / sdAt(row) / 60;
  }
  return sum;
}

// By construction; one column tells it to a fifth, sixty to 2.5 % (1 sd).
test('noise that grows with the distance is told at the end of an approach, and at the start of a departure', () => {
  const approach = (row: number): number => 0.01 + 0.05 * (1 - row / 2999);
  expect(Math.abs(toldAt(2999, approach) - 1)).toBeLessThan(0.08);
  expect(Math.abs(toldAt(0, approach) - 1)).toBeLessThan(0.08);
  const departure = (row: number): number => approach(2999 - row);
  expect(Math.abs(toldAt(0, departure) - 1)).toBeLessThan(0.08);
});

test('a quieter sensor that takes over makes the noise after it no smaller than it is', () => {
  for (const from of [2200, 2500, 2750])
    expect(toldAt(2999, (row) => (row < from ? 0.3 : 0.01))).toBeGreaterThan(0.95);
});
