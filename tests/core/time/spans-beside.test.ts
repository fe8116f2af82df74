import { expect, test } from 'vitest';
import { spansBeside } from '@/lib/core/time/spans-beside';

const DAY_S = 86_400;
const HOUR_S = 3600;
const stretch = (fromH: number, toH: number) => ({ lowS: fromH * HOUR_S, highS: toH * HOUR_S });

/** Hours of the clock by hand: what lies nearest is what a reader of two clocks would take. */
test.each([
  ['both in one day', [stretch(10, 20), stretch(10, 20)], [0, 0]],
  ['the second later that day', [stretch(8, 9), stretch(17, 18)], [0, 0]],
  ['the second after midnight alone', [stretch(23.5, 24.5), stretch(0.1, 0.2)], [0, 1]],
  ['the first after midnight alone', [stretch(0.1, 0.2), stretch(23.5, 24.5)], [1, 0]],
  ['one without a stamp between', [stretch(23, 24), stretch(NaN, NaN), stretch(0, 1)], [0, 0, 1]],
])('stretches lie nearest to each other: %s', (_what, stretches, spans) => {
  expect(spansBeside(stretches, DAY_S, 6 * HOUR_S)).toEqual({ spans, apart: null });
});

test('a stretch long before the others is apart, as it may be of the day after', () => {
  expect(spansBeside([stretch(20, 21), stretch(9, 10)], DAY_S, 6 * HOUR_S).apart).toBe(1);
});
