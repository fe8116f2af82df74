import { expect, test } from 'vitest';
import {
  ensembleBand,
  outsideStretches,
  placesOutside,
  shareOutside,
} from '@/lib/core/compare/ensemble-band';

const runs = Array.from({ length: 21 }, (_, run) => Float64Array.of(run, 10 * run, Number.NaN));

test('quantiles of type 7 over the runs that have a value', () => {
  // 21 equal steps: p lies at position 20 p, a whole number here.
  const band = ensembleBand(runs, 3);
  expect(band.runsThere).toEqual([21, 21, 0]);
  expect([...band.p05]).toEqual([1, 10, Number.NaN]);
  expect([...band.p50]).toEqual([10, 100, Number.NaN]);
  expect([...band.p95]).toEqual([19, 190, Number.NaN]);
});

test('a place without a band is neither inside nor outside', () => {
  const band = ensembleBand(runs, 3);
  const flight = Float64Array.of(20, 100, 5);
  expect(placesOutside(flight, band)).toEqual([true, false, false]);
  expect(shareOutside(flight, band)).toBe(0.5);
});

test('neighbouring places outside make one stretch', () => {
  expect(outsideStretches([true, true, false, true], () => true)).toEqual([
    [0, 1],
    [3, 3],
  ]);
});

test('a place that was never passed parts a stretch', () => {
  const follows = (place: number) => place !== 2;
  expect(outsideStretches([true, true, true, true], follows)).toEqual([
    [0, 1],
    [2, 3],
  ]);
});
