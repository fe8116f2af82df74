import { expect, test } from 'vitest';
import { spreadOverTime } from '@/lib/core/compare/time-spread';
import { expectWithin } from '../../support/expect-within';

const span = (rows: number) => [{ from: 0, to: rows }];

test('a straight line from 0 to 1 has mean 1/2 and deviation 1/sqrt(12), as the uniform distribution', () => {
  const tS = Float64Array.of(0, 1);
  const { mean, sd, peak } = spreadOverTime({ tS, values: tS, spans: span(2) }, 0, 1);
  expect(mean).toBe(0.5);
  expectWithin(sd, 1 / Math.sqrt(12), 1e-15, 'exact integral');
  expect(peak).toBe(1);
});

test('rows that lie closer together do not count for more', () => {
  const even = Float64Array.from({ length: 101 }, (_, i) => i);
  const dense = Float64Array.from([...even, 0.25, 0.5, 0.75, 1.25, 1.5, 1.75]).sort();
  const [a, b] = [even, dense].map((tS) =>
    spreadOverTime({ tS, values: tS.map((t) => 3 - 0.1 * t), spans: span(tS.length) }, 0, 100),
  );
  expectWithin(a?.mean ?? Number.NaN, b?.mean ?? 0, 1e-12, 'the same line');
  expectWithin(a?.sd ?? Number.NaN, b?.sd ?? 0, 1e-12, 'the same line');
});

test('a millimetre about a kilometre keeps its digits', () => {
  const tS = Float64Array.from({ length: 6_001 }, (_, i) => (2 * Math.PI * i) / 6_000);
  const values = tS.map((t) => 1_000 + 1e-3 * Math.sin(t));
  const { sd } = spreadOverTime({ tS, values, spans: span(tS.length) }, 0, 2 * Math.PI);
  expectWithin(sd, 1e-3 / Math.SQRT2, 1e-9, 'a whole period of a sine, chords for arcs');
});

test('gaps and ends between rows are cut off', () => {
  const tS = Float64Array.of(0, 1, 10, 11);
  const values = Float64Array.of(1, 1, -3, -3);
  const column = {
    tS,
    values,
    spans: [
      { from: 0, to: 2 },
      { from: 2, to: 4 },
    ],
  };
  const { mean, peak, durationS } = spreadOverTime(column, 0.5, 10.5);
  expect({ mean, peak, durationS }).toEqual({ mean: -1, peak: -3, durationS: 1 });
  expect(spreadOverTime(column, 2, 9)).toMatchObject({ mean: Number.NaN, durationS: 0 });
});
