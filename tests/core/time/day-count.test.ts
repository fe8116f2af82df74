import { expect, test } from 'vitest';
import { dayResolution } from '@/lib/core/time/day-count';
import { formatInstant } from '@/lib/core/time/format';
import { parseStamp } from '@/lib/core/time/parse';
import type { DayCode, TimeScale } from '@/lib/core/time/time-code';

function read(text: string, code: DayCode, scale: TimeScale = 'UTC'): string | null {
  const spec = { columns: ['t'], code, scale, from: { taiNs: 0n } } as const;
  const instant = parseStamp(text, spec);
  return instant === null ? null : formatInstant(instant, scale, { decimals: 9 });
}

/**
 * Serial days: Python 3.11, `datetime(1899, 12, 30) + timedelta(days=n)` and `datetime(1904, 1, 1) + ...`.
 * Fractions by its `decimal`: 0.38368344908 d x 86,400 s/d = 33,150.250000512 s.
 */
test.each([
  ['days-since-1900', '61', '1900-03-01T00:00:00.000000000Z'],
  ['days-since-1900', '25569', '1970-01-01T00:00:00.000000000Z'],
  ['days-since-1900', '36526.5', '2000-01-01T12:00:00.000000000Z'],
  ['days-since-1900', '47955.38368344908', '2031-04-17T09:12:30.250000512Z'],
  ['days-since-1900', '47955,38368344908', '2031-04-17T09:12:30.250000512Z'],
  ['days-since-1904', '0', '1904-01-01T00:00:00.000000000Z'],
  ['days-since-1904', '46493.38368344908', '2031-04-17T09:12:30.250000512Z'],
] as const)('%s %s is %s', (code, text, wanted) => {
  expect(read(text, code)).toBe(wanted);
});

/** J2000.0 is JD 2451545.0, MJD 51544.5 of TT: IAU Resolution B1 (2000), and SOFA's constant DJM00. */
test('a modified Julian date begins half a day and 2,400,000 days after a Julian date', () => {
  expect(read('51544.5', 'modified-julian-date', 'TT')).toBe('2000-01-01T12:00:00.000000000');
  expect(read('2451545.0', 'julian-date', 'TT')).toBe('2000-01-01T12:00:00.000000000');
  // The epoch: 17 November 1858.
  expect(read('0', 'modified-julian-date', 'TAI')).toBe('1858-11-17T00:00:00.000000000');
});

/** As SOFA's `utctai` has it, a day of UTC with a leap second is 86,401 s long; 86,400/86,401 d is its second 60. */
test('a modified Julian date has the leap second of 2016, a spreadsheet has days of 86,400 s', () => {
  expect(read('57753.99998842605988356617', 'modified-julian-date')).toBe(
    '2016-12-31T23:59:60.000000000Z',
  );
  expect(read('42735.5', 'days-since-1900')).toBe('2016-12-31T12:00:00.000000000Z');
  expect(read('57753.5', 'modified-julian-date')).toBe('2016-12-31T12:00:00.500000000Z');
});

test.each([
  ['days-since-1900', '60'],
  ['days-since-1900', '-1'],
  ['days-since-1904', '4.6e4'],
  ['modified-julian-date', '2031-04-17'],
  ['modified-julian-date', ''],
] as const)('%s %s is no stamp', (code, text) => {
  expect(read(text, code)).toBeNull();
});

test('days tell times apart by their decimals and by the size of a double', () => {
  // By hand, IEEE 754: 50,000 lies between 2^15 and 2^16, so its step is 2^(15 - 52) d = 0.63 us.
  expect(dayResolution(['50000.123456789', '50000.5'])).toEqual({
    decimals: 9,
    writtenS: 86_400e-9,
    doubleS: 86_400 * 2 ** -37,
  });
  expect(dayResolution(['no', ''])).toBeNull();
});
