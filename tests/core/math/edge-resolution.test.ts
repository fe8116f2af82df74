import { expect, test } from 'vitest';
import { flattenedCrossingS, spreadLeapS } from '@/lib/core/math/edge-resolution';

const STEP_S = 0.1;
const tS = Float64Array.from({ length: 400 }, (_, row) => row * STEP_S);
const SPAN_S = 2;
const LINES = { spanS: SPAN_S, stepS: STEP_S, sd: 0 };

/** The mean of a value over the span round each row, by a fine sum. */
function smoothed(value: (atS: number) => number): Float64Array {
  const parts = 400;
  return tS.map((atS) => {
    let sum = 0;
    for (let k = 0; k < parts; k++) sum += value(atS + SPAN_S * ((k + 0.5) / parts - 0.5)) / parts;
    return sum;
  });
}

/** Where a column first comes over a level, linear between rows, s. */
function crossing(values: Float64Array, level: number): number {
  const row = values.findIndex((value) => value >= level);
  const [low, high] = [values[row - 1] ?? 0, values[row] ?? 0];
  return (tS[row - 1] ?? 0) + (STEP_S * (level - low)) / (high - low);
}

/** A rise at 0.01 a second from 20 s on that ends after `forS`. */
const rise =
  (forS: number) =>
  (atS: number): number =>
    0.01 * Math.min(forS, Math.max(0, atS - 20));

/** By brute force: the crossing of the value itself is known in closed form. */
test('a corner that lines flatten lies within what they are said to leave unknown', () => {
  for (const afterS of [0.2, 0.5, 0.9, 1.5]) {
    const column = smoothed(rise(afterS + 3));
    const edgeS = crossing(column, 0.01 * afterS);
    const halfS = flattenedCrossingS(tS, column, edgeS, LINES);
    expect(Math.abs(edgeS - (20 + afterS))).toBeLessThanOrEqual(halfS + 1e-3);
    expect(halfS).toBeLessThan(SPAN_S / 2);
  }
  const even = smoothed(rise(100));
  expect(flattenedCrossingS(tS, even, 30, LINES)).toBeLessThan(1e-9);
});

test('a leap that lines spread lies within half their span of where they cross', () => {
  for (const level of [0.02, 0.1, 0.18]) {
    const column = smoothed((atS) => (atS < 20.03 ? 0 : 0.2));
    const edgeS = crossing(column, level);
    const halfS = spreadLeapS(tS, column, edgeS, LINES);
    expect(Math.abs(edgeS - 20.03)).toBeLessThanOrEqual(halfS);
    expect(halfS).toBeLessThan(SPAN_S);
  }
  expect(spreadLeapS(tS, smoothed(rise(8)), 22, LINES)).toBe(0);
});
