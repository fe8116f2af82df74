import { expect, test } from 'vitest';
import { carryDays, writesDays } from '@/lib/core/time/carry-days';

const DAY_S = 86_400;

function secondsOf(clock: string): number {
  const [hours = 0, minutes = 0, seconds = 0] = clock.split(':').map(Number);
  return hours * 3600 + minutes * 60 + seconds;
}

/** Hours after the first 00:00:00, of times of day in the order of a file. */
function carriedHours(...clocks: readonly string[]): readonly number[] | string | null {
  const found = carryDays(Float64Array.from(clocks, secondsOf), 0);
  if (found === null) return null;
  return found.kind === 'open' ? `row ${found.turn.row}` : [...found.tS].map((s) => s / 3600);
}

/** The answers are counted by hand on a clock of 24 hours. */
test('times of day count on over each midnight', () => {
  expect(carriedHours('23:00:00', '00:30:00', '12:00:00', '23:30:00', '01:00:00')).toEqual([
    23, 24.5, 36, 47.5, 49,
  ]);
});

test('a late line after midnight goes back to the day before', () => {
  expect(carriedHours('23:30:00', '00:30:00', '23:45:00', '00:45:00')).toEqual([
    23.5, 24.5, 23.75, 24.75,
  ]);
});

test('rows from the latest to the earliest are carried too', () => {
  expect(carriedHours('00:30:00', '23:30:00', '20:00:00')).toEqual([24.5, 23.5, 20]);
});

test.each([
  ['no midnight', ['01:00:00', '02:00:00', '01:30:00']],
  ['one stamp ahead', ['02:05:00', '22:05:10', '02:05:20', '02:06:00']],
  ['one stamp behind', ['20:05:00', '02:06:00', '20:05:20']],
  ['more than a day', ['23:00:00', '25:00:00', '00:30:00']],
  ['one row', ['23:00:00']],
])('%s is left as it is', (_what, clocks) => {
  expect(carriedHours(...clocks)).toBeNull();
});

test('a step back between a quarter of a day and three is left open', () => {
  expect(carriedHours('15:00:00', '16:00:00', '04:00:00', '05:00:00')).toBe('row 2');
});

test('a clock that counts from elsewhere is carried from there; rows without a stamp stay so', () => {
  const found = carryDays(Float64Array.of(86_399 - 500, NaN, 1 - 500), -500);
  expect(found).toMatchObject({ kind: 'carried', turns: [{ row: 2, beforeS: 86_399, afterS: 1 }] });
  expect(found?.kind === 'carried' && [...found.tS]).toEqual([85_899, NaN, DAY_S - 499]);
});

test('a stamp with its day is told from a time of day', () => {
  expect(['1:00:00:05', '-003:07:45:12.5', '107:09:12:30'].every(writesDays)).toBe(true);
  expect(['23:59:58', '67:45:12.5', ''].some(writesDays)).toBe(false);
});
