import { afterEach, expect, test } from 'vitest';
import { dayFromDate } from '@/lib/core/time/calendar';
import { formatInstant } from '@/lib/core/time/format';
import { secondsBetween } from '@/lib/core/time/instant';
import { BUILT_IN_LEAP_TABLE, setLeapTable } from '@/lib/core/time/leap-table';
import { parseInstant, parseStamp } from '@/lib/core/time/parse';

/** 1 July 2031 begins a second early, as nothing has so far. */
const WITH_ONE_LEFT_OUT = {
  id: 'invented',
  entries: [...BUILT_IN_LEAP_TABLE.entries, { day: dayFromDate(2031, 7, 1), taiMinusUtcS: 36 }],
  expiresDay: dayFromDate(2032, 6, 28),
};

function utc(text: string) {
  const instant = parseInstant(text, 'UTC');
  if (instant === null) throw new Error(text);
  return instant;
}

afterEach(() => setLeapTable(BUILT_IN_LEAP_TABLE));

/** Source: ITU-R TF.460-6 (from memory): with a negative leap second 23:59:58 is followed by 00:00:00. */
test('a second left out is written nowhere, and no second 60 is read beside it', () => {
  setLeapTable(WITH_ONE_LEFT_OUT);
  const last = utc('2031-06-30T23:59:58Z');
  expect(secondsBetween(last, utc('2031-07-01T00:00:00Z'))).toBe(1);
  const written = [0n, 500_000_000n, 1_000_000_000n].map((ns) =>
    formatInstant({ taiNs: last.taiNs + ns }, 'UTC', { decimals: 1 }),
  );
  expect(written).toEqual([
    '2031-06-30T23:59:58.0Z',
    '2031-06-30T23:59:58.5Z',
    '2031-07-01T00:00:00.0Z',
  ]);
  expect(parseInstant('2031-06-30T23:59:60Z', 'UTC')).toBeNull();
});

/** By hand: that day has 86,399 s, and half of them are 11:59:59.5. */
test('a Julian date counts parts of a day that is a second shorter', () => {
  setLeapTable(WITH_ONE_LEFT_OUT);
  const from = utc('2031-06-30T00:00:00Z');
  const half = parseStamp('2463048.0', { columns: [], code: 'julian-date', scale: 'UTC', from });
  if (half === null) throw new Error('no instant');
  expect(formatInstant(half, 'UTC', { decimals: 3 })).toBe('2031-06-30T11:59:59.500Z');
});
