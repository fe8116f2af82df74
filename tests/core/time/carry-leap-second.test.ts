import { expect, test } from 'vitest';
import { carryCounter } from '@/lib/core/time/carry-counter';
import { carryDays } from '@/lib/core/time/carry-days';
import { carryLeapSecond, leapSecondsAfter } from '@/lib/core/time/carry-leap-second';
import { parseInstant } from '@/lib/core/time/parse';
import { makeStampReader } from '@/lib/core/time/stamp-reader';
import type { TimeCode } from '@/lib/core/time/time-code';

const instantOf = (text: string) => parseInstant(text, 'UTC') ?? { taiNs: 0n };
const ZERO = instantOf('2016-12-31T23:59:58Z');
const MIDNIGHT = instantOf('2016-12-31T00:00:00Z');

function read(code: TimeCode, from: typeof ZERO, texts: readonly string[]): Float64Array {
  const reader = makeStampReader({ columns: ['t'], code, scale: 'UTC', from }, ZERO);
  return Float64Array.from(texts, (text) => reader(text));
}

/**
 * Elapsed seconds are counted by hand through 23:59:58, 59, 60, 00:00:00 of the leap second at the end of
 * 2016. POSIX (IEEE Std 1003.1-2017, 4.16): 1483228800 is 00:00:00, and 23:59:60 by the formula. Clocks that
 * repeat second 59 instead: common practice, no source.
 */
test.each([
  [
    'of the second after',
    ['1483228799.5', '1483228800.0', '1483228800.5', '1483228800.0', '1483228800.5'],
  ],
  [
    'of the second before',
    ['1483228799.5', '1483228799.0', '1483228799.5', '1483228800.0', '1483228800.5'],
  ],
])('rows of second 60 with the count %s get their own place', (_what, texts) => {
  const found = carryLeapSecond(read('unix-seconds', ZERO, texts), ZERO);
  expect([...(found?.tS ?? [])]).toEqual([1.5, 2, 2.5, 3, 3.5]);
  expect(found?.turns).toHaveLength(1);
});

test('a step back of a second anywhere else is left as it is', () => {
  expect(carryLeapSecond(Float64Array.of(100, 101, 100.5, 101.5), ZERO)).toBeNull();
  expect(carryLeapSecond(Float64Array.of(0, 1, 2, 3, 4), ZERO)).toBeNull();
});

test('one row a second repeats one count, which is second 60', () => {
  const after = ['1483228798', '1483228799', '1483228800', '1483228800', '1483228801'];
  const before = ['1483228798', '1483228799', '1483228799', '1483228800', '1483228801'];
  for (const texts of [after, before]) {
    const found = carryLeapSecond(read('unix-seconds', ZERO, texts), ZERO);
    expect([...(found?.tS ?? [])]).toEqual([0, 1, 2, 3, 4]);
  }
});

test('a row out of order, or given twice, beside a leap second moves none', () => {
  const stray = ['1483228799.9', '1483228800.1', '1483228800.3', '1483228800.2', '1483228800.4'];
  const twice = ['1483228799.8', '1483228800.0', '1483228800.0', '1483228800.2', '1483228800.4'];
  for (const texts of [stray, twice])
    expect(carryLeapSecond(read('unix-seconds', ZERO, texts), ZERO)).toBeNull();
});

const CARRIED = [1.5, 2, 2.5, 3, 3.5];

test('times of day show second 60, and the day after begins a second later', () => {
  const tS = read('elapsed-dhms', MIDNIGHT, [
    '23:59:59.5',
    '23:59:60',
    '23:59:60.5',
    '00:00:00',
    '00:00:00.5',
  ]);
  const fromS = -86_398;
  const found = carryDays(tS, fromS, { leapAfter: leapSecondsAfter(MIDNIGHT) });
  expect(found?.kind === 'carried' && [...found.tS]).toEqual(CARRIED);
});

test('seconds of the day run to 86,400.9 on that day', () => {
  const texts = ['86399.5', '86400.0', '86400.5', '0.0', '0.5'];
  const tS = read('elapsed-seconds', MIDNIGHT, texts);
  const found = carryCounter(tS, -86_398, leapSecondsAfter(MIDNIGHT));
  expect([...(found?.tS ?? [])]).toEqual(CARRIED);
});

test('second 60 is none of a clock that counts from elsewhere, nor of another day', () => {
  const odd = instantOf('2016-12-31T00:00:01Z');
  expect(read('elapsed-dhms', odd, ['23:59:60'])).toEqual(Float64Array.of(NaN));
  const other = instantOf('2016-11-01T00:00:00Z');
  expect(read('elapsed-dhms', other, ['23:59:60'])).toEqual(Float64Array.of(NaN));
  expect(read('elapsed-dhms', MIDNIGHT, ['22:59:60'])).toEqual(Float64Array.of(NaN));
  expect([1, 2].map(leapSecondsAfter(other))).toEqual([0, 0]);
});
