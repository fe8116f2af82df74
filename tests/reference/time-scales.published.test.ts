/** Published pairs of stamps on several scales; the source stands beside each. */
import { expect, test } from 'vitest';
import { dayFromDate } from '@/lib/core/time/calendar';
import { formatInstant } from '@/lib/core/time/format';
import { type Instant, secondsBetween } from '@/lib/core/time/instant';
import { taiMinusUtcS } from '@/lib/core/time/leap-seconds';
import { BUILT_IN_LEAP_TABLE } from '@/lib/core/time/leap-table';
import { parseInstant, parseStamp } from '@/lib/core/time/parse';
import type { TimeCode, TimeScale } from '@/lib/core/time/time-code';
import { addSeconds } from '../support/add-seconds';

function at(text: string, scale: TimeScale = 'UTC'): Instant {
  const instant = parseInstant(text, scale);
  if (instant === null) throw new Error(`not a stamp: ${text}`);
  return instant;
}

function read(code: TimeCode, scale: TimeScale, text: string, second = ''): Instant {
  const instant = parseStamp(text, { columns: ['t'], code, scale, from: { taiNs: 0n } }, second);
  if (instant === null) throw new Error(`not a stamp: ${text}`);
  return instant;
}

/**
 * Source: Vallado, Seago & Seidelmann, "Implementation Issues Surrounding the New IAU Reference
 * Systems for Astrodynamics", AAS 06-134 (2006), example of 6 April 2004. Printed to 1 us.
 */
test('UTC 07:51:28.386009 is TT 07:52:32.570009', () => {
  const instant = at('2004-04-06T07:51:28.386009');
  expect(formatInstant(instant, 'TT', { decimals: 6 })).toBe('2004-04-06T07:52:32.570009');
  expect(at('2004-04-06T07:52:32.570009', 'TT')).toEqual(instant);
});

/** Source: IERS list as shipped in the tz database (leap-seconds.list): 28 entries, NTP 4023129600. */
test('the leap-second table has 28 entries, the last 37 s, and ends on 28 June 2027', () => {
  const { entries, expiresDay } = BUILT_IN_LEAP_TABLE;
  expect(entries).toHaveLength(28);
  expect(entries.at(-1)).toEqual({ day: 1_483_228_800 / 86_400, taiMinusUtcS: 37 });
  expect(expiresDay * 86_400).toBe(4_023_129_600 - 2_208_988_800);
});

/** Source: ERFA t_erfa_c.c, test of eraDat. */
test.each([
  [2003, 6, 1, 32],
  [2008, 1, 17, 33],
  [2017, 9, 1, 37],
])('TAI - UTC on %i-%i-%i is %i s', (year, month, dayOfMonth, expectedS) => {
  expect(taiMinusUtcS(dayFromDate(year, month, dayOfMonth))).toBe(expectedS);
});

/** Source: Orekit, test data of GPSScaleTest. */
test('GPS 1999-03-04T00:00:00 is UTC 1999-03-03T23:59:47', () => {
  expect(at('1999-03-04T00:00:00', 'GPS')).toEqual(at('1999-03-03T23:59:47'));
});

/** Source: IS-GPS-200 (epoch); Orekit test data, 315964819000 ms on TAI. */
test('GPS week 0 second 0 is 1980-01-06T00:00:00 UTC', () => {
  expect(read('gps-week-seconds', 'GPS', '0', '0')).toEqual(at('1980-01-06T00:00:00'));
  expect(at('1980-01-06T00:00:00').taiNs).toBe(315_964_819_000_000_000n);
});

/** Source: CCSDS 301.0-B-4 section 3.5; second counts read in a transcription, POSIX recomputed. */
test('code A, code B, POSIX and TAI seconds of 1988-01-18T17:20:43.123456 are one instant', () => {
  const instant = read('ccsds-a', 'UTC', '1988-01-18T17:20:43.123456Z');
  expect(read('ccsds-b', 'UTC', '1988-018T17:20:43.123456Z')).toEqual(instant);
  expect(read('ccsds-b', 'UTC', '1988-018T17:20:43.123456')).toEqual(instant);
  expect(read('unix-seconds', 'UTC', '569524843.123456')).toEqual(instant);
  expect(read('unix-seconds', 'TAI', '569524867.123456')).toEqual(instant);
});

/** Source: dates of the annex samples of CCSDS 503.0-B-2 and 504.0-B-2; pairs recomputed. */
test.each([
  ['2005-159', '2005-06-08'],
  ['2005-160', '2005-06-09'],
  ['2005-184', '2005-07-03'],
  ['2005-191', '2005-07-10'],
  ['2006-090', '2006-03-31'],
  ['2006-347', '2006-12-13'],
  ['2008-071', '2008-03-11'],
  ['2010-049', '2010-02-18'],
])('day of year %s is %s', (dayOfYear, calendar) => {
  expect(at(`${dayOfYear}T17:41:00`)).toEqual(at(`${calendar}T17:41:00`));
  expect(
    formatInstant(at(`${calendar}T00:00:00`), 'UTC', { decimals: 0, date: 'day-of-year' }),
  ).toBe(`${dayOfYear}T00:00:00Z`);
});

/** Source: ERFA t_erfa_c.c, t_utctai and t_taiutc (2006, TAI - UTC = 33 s) and t_taitt; as printed. */
test('Julian dates of UTC, TAI and TT agree as printed', () => {
  const instant = read('julian-date', 'UTC', '2453750.500000000');
  expect(instant).toEqual(at('2006-01-15T00:00:00'));
  const utcReading = read('julian-date', 'UTC', '2453751.392100694');
  const taiReading = read('julian-date', 'TAI', '2453751.3924826384444444444');
  expect(Math.abs(secondsBetween(utcReading, taiReading))).toBeLessThan(5e-10 * 86_400);
  const tai = read('julian-date', 'TAI', '2453751.392482639');
  const tt = read('julian-date', 'TT', '2453751.392855139');
  expect(Math.abs(secondsBetween(tai, tt))).toBeLessThan(5e-10 * 86_400 * 2);
});

/** Source: Orekit, test data of UTCScaleTest. */
test('a second across a leap second lasts as long as it did', () => {
  const lasts = (from: string, to: string) => secondsBetween(at(from), at(to));
  expect(lasts('2005-12-31T23:59:59', '2006-01-01T00:00:01')).toBe(3);
  expect(lasts('1999-12-31T23:59:59', '2000-01-01T00:00:01')).toBe(2);
  expect(lasts('2008-12-31T23:59:60', '2009-01-01T00:00:00')).toBe(1);
});

/** Source: Orekit, test data of UTCScaleTest. */
test('1983-06-30T23:59:59 + 1.004 s prints second 60, + 2.008 s the next day', () => {
  const start = at('1983-06-30T23:59:59');
  expect(formatInstant(addSeconds(start, 1.004), 'UTC', { decimals: 3 })).toBe(
    '1983-06-30T23:59:60.004Z',
  );
  expect(formatInstant(addSeconds(start, 2.008), 'UTC', { decimals: 3 })).toBe(
    '1983-07-01T00:00:00.008Z',
  );
});

/** Source: ERFA documentation of dtf2d and d2dtf (1994-06-30T23:59:60.13599); Orekit for 2015. */
test('second 60 is read and is what rounding up to it prints', () => {
  expect(formatInstant(at('1994-06-30T23:59:60.13599'), 'UTC', { decimals: 5 })).toBe(
    '1994-06-30T23:59:60.13599Z',
  );
  expect(formatInstant(at('2015-06-30T23:59:59.999999'), 'UTC', { decimals: 3 })).toBe(
    '2015-06-30T23:59:60.000Z',
  );
  expect(formatInstant(at('2014-06-30T23:59:59.999999'), 'UTC', { decimals: 3 })).toBe(
    '2014-07-01T00:00:00.000Z',
  );
});

/** Source: POSIX.1-2017 section 4.16, its formula; pairs recomputed. */
test('POSIX seconds count days of 86 400 s, elapsed seconds do not', () => {
  expect(read('unix-seconds', 'UTC', '1000000000')).toEqual(at('2001-09-09T01:46:40Z'));
  expect(read('unix-seconds', 'UTC', '1483228799')).toEqual(at('2016-12-31T23:59:59Z'));
  expect(read('unix-milliseconds', 'UTC', '1483228800000')).toEqual(at('2017-01-01T00:00:00Z'));
  expect(secondsBetween(at('2016-12-31T23:59:59Z'), at('2017-01-01T00:00:00Z'))).toBe(2);
  expect(secondsBetween(at('2016-12-31T23:59:60Z'), at('2017-01-01T00:00:00Z'))).toBe(1);
});

/** Source: RFC 3339 section 5.8; seconds read in a transcription. */
test('the examples of RFC 3339 are the instants it says', () => {
  expect(at('1985-04-12T23:20:50.52Z')).toEqual(read('unix-seconds', 'UTC', '482196050.52'));
  expect(at('1996-12-19T16:39:57-08:00')).toEqual(at('1996-12-20T00:39:57Z'));
  expect(at('1996-12-20T00:39:57Z')).toEqual(read('unix-seconds', 'UTC', '851042397'));
  expect(at('1990-12-31T15:59:60-08:00')).toEqual(at('1990-12-31T23:59:60Z'));
  expect(at('1937-01-01T12:00:27.87+00:20')).toEqual(read('unix-seconds', 'UTC', '-1041337172.13'));
});

/** Source: Orekit, AbsoluteDateTest, the same instant with twelve decimals (CDS code). */
test('twelve decimals round to the nanosecond', () => {
  expect(formatInstant(at('2002-05-23T12:34:56.789012345678'), 'UTC', { decimals: 9 })).toBe(
    '2002-05-23T12:34:56.789012346Z',
  );
});
