import { expect, test } from 'vitest';
import { carryCounter } from '@/lib/core/time/carry-counter';

/** Stamps of a counter that begins again at `spanS`, a row every `stepS` from `startS` on. */
function counter(spanS: number, startS: number, stepS: number, rows = 40): Float64Array {
  return Float64Array.from({ length: rows }, (_, row) => {
    const units = Math.round((startS + row * stepS) * 1e6) % Math.round(spanS * 1e6);
    return units / 1e6;
  });
}

/** What the stamps would be if the counter went on: by arithmetic. */
function without(startS: number, stepS: number, rows = 40): readonly number[] {
  return Array.from({ length: rows }, (_, row) => Math.round((startS + row * stepS) * 1e6) / 1e6);
}

test.each([
  ['seconds of the day', 86_400, 86_396.1, 0.2],
  ['seconds of the week', 604_800, 604_796.1, 0.2],
  ['seconds of the hour', 3600, 3596.1, 0.2],
  ['16 bits of seconds', 65_536, 65_530, 1],
  ['32 bits of milliseconds', 4_294_967.296, 4_294_960, 1],
  ['32 bits of microseconds', 4294.967296, 4290.05, 0.2],
])('%s count on where they begin again', (_what, spanS, startS, stepS) => {
  const found = carryCounter(counter(spanS, startS, stepS), 0);
  expect(found?.spanS).toBe(spanS);
  expect(found?.turns).toHaveLength(1);
  expect([...(found?.tS ?? [])]).toEqual(without(startS, stepS));
});

test('a counter that begins again more than once counts on each time', () => {
  const found = carryCounter(counter(3600, 3500, 60, 180), 0);
  // 180 rows a minute apart from 3500 s: to 14,240 s, over the end at 3600, 7200 and 10,800 s.
  expect(found?.turns).toHaveLength(3);
  expect(found?.tS.at(-1)).toBe(3500 + 179 * 60);
});

test('a pause over midnight of up to an hour is one of seconds of the day', () => {
  const found = carryCounter(Float64Array.of(86_000, 86_000.2, 86_000.4, 1200, 1200.2), 0);
  expect(found).toMatchObject({
    spanS: 86_400,
    turns: [{ row: 3, beforeS: 86_000.4, afterS: 1200 }],
  });
  expect(found?.tS.at(-1)).toBe(87_600.2);
});

test('a counter from an instant is carried from there; rows without a stamp stay so', () => {
  const found = carryCounter(Float64Array.of(86_399 - 500, NaN, 1 - 500, 2 - 500), -500);
  expect([...(found?.tS ?? [])]).toEqual([85_899, NaN, 85_901, 85_902]);
});

const set = (values: readonly number[]) => Float64Array.from(values);
test.each([
  ['a counter that goes on', without(0, 0.2)],
  ['one set back in its midst', [...without(40_000, 0.2), ...without(0, 0.2)]],
  ['one set back after eighteen hours', [...without(70_000, 0.2), ...without(0, 0.2)]],
  ['a row out of order', [0, 1, 2, 1.5, 3, 4]],
  ['a pause of a day', [...without(10, 0.2), ...without(80_000, 0.2)]],
  ['seconds beyond the span', [...without(86_390, 0.5), ...without(0, 0.5)]],
  ['rows from the latest to the earliest', [...without(40_000, 0.2)].reverse()],
])('%s is left as it is', (_what, values) => {
  expect(carryCounter(set(values), 0)).toBeNull();
});
