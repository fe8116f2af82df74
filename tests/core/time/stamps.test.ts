import { expect, test } from 'vitest';
import { formatInstant } from '@/lib/core/time/format';
import { type Instant, secondsBetween } from '@/lib/core/time/instant';
import { leapSecondIssue } from '@/lib/core/time/leap-seconds';
import { parseInstant, parseStamp } from '@/lib/core/time/parse';
import { makeStampReader, stampSeconds } from '@/lib/core/time/stamp-reader';
import {
  TIME_CODES,
  TIME_SCALES,
  type TimeCode,
  type TimeScale,
  type TimeSpec,
} from '@/lib/core/time/time-code';
import { addSeconds } from '../../support/add-seconds';
import { seededRandom } from '../../support/seeded-random';

function utc(text: string): Instant {
  const instant = parseInstant(text, 'UTC');
  if (instant === null) throw new Error(`not a stamp: ${text}`);
  return instant;
}

const zero = utc('2031-04-17T09:12:30Z');

function spec(code: TimeCode, scale: TimeScale = 'UTC', from = zero): TimeSpec {
  return { columns: ['t'], code, scale, from };
}

test('elapsed days, hours, minutes and seconds count from the epoch, negative ones back', () => {
  const read = (text: string) => stampSeconds(text, spec('elapsed-dhms'), zero);
  expect(read('003:07:45:12.5')).toBe(3 * 86_400 + 7 * 3600 + 45 * 60 + 12.5);
  expect(read('67:45:12')).toBe(67 * 3600 + 45 * 60 + 12);
  expect(read('-00:00:01.25')).toBe(-1.25);
  expect(read('-003:07:45:12.5')).toBe(-(3 * 86_400 + 7 * 3600 + 45 * 60 + 12.5));
});

test.each(['003:24:00:00', '00:60:00', '00:00:60', '12:30', '1:2:3', '', 'x', '00:00:00.'])(
  'elapsed text %j is no stamp',
  (text) => {
    expect(stampSeconds(text, spec('elapsed-dhms'), zero)).toBeNaN();
  },
);

test.each([
  '2031-02-29T00:00:00Z',
  '2031-13-01T00:00:00Z',
  '2031-366T00:00:00Z',
  '2031-04-17T24:00:01Z',
  '2031-04-17T09:60:00Z',
  '2031-04-17T09:12:61Z',
  '2031-04-17T09:12:60Z',
  '2017-03-31T23:59:60Z',
  '2031-04-17T09:12:30.Z',
  '2031-04-17T09:12:30ZZ',
  '2031-04-17',
  '17.04.2031 09:12:30',
  '',
])('date text %j is no stamp', (text) => {
  expect(parseStamp(text, spec('iso8601'))).toBeNull();
  expect(makeStampReader(spec('iso8601'), zero)(text)).toBeNaN();
});

test('an offset from UTC makes no sense on another scale', () => {
  expect(parseStamp('2031-04-17T09:12:30+02:00', spec('iso8601', 'GPS'))).toBeNull();
  expect(parseStamp('2031-04-17T09:12:30Z', spec('iso8601', 'GPS'))).not.toBeNull();
});

test('each CCSDS code takes its own date form only', () => {
  expect(parseStamp('2031-107T09:12:30Z', spec('ccsds-b'))).toEqual(zero);
  expect(parseStamp('2031-04-17T09:12:30Z', spec('ccsds-b'))).toBeNull();
  expect(parseStamp('2031-107T09:12:30Z', spec('ccsds-a'))).toBeNull();
  expect(parseStamp('2031-107T09:12:30Z', spec('iso8601'))).toEqual(zero);
});

test('a stamp is exact to the nanosecond and rounds the tenth digit', () => {
  const ns = (text: string) => (parseStamp(text, spec('iso8601'))?.taiNs ?? 0n) - zero.taiNs;
  expect(ns('2031-04-17T09:12:30.000000001Z')).toBe(1n);
  expect(ns('2031-04-17T09:12:30,123456789Z')).toBe(123_456_789n);
  expect(ns('2031-04-17T09:12:30.1234567895Z')).toBe(123_456_790n);
  expect(ns('2031-04-17T09:12:30.1234567894999Z')).toBe(123_456_789n);
  expect(ns('2031-04-17T09:12:30.9999999999Z')).toBe(1_000_000_000n);
});

test('numbers of seconds keep every digit, whatever the unit and the sign', () => {
  const ns = (text: string, code: TimeCode) => parseStamp(text, spec(code, 'TAI'))?.taiNs;
  expect(ns('1926234750.123456789', 'unix-seconds')).toBe(1_926_234_750_123_456_789n);
  expect(ns('1926234750123.456789', 'unix-milliseconds')).toBe(1_926_234_750_123_456_789n);
  expect(ns('1926234750123456789', 'unix-nanoseconds')).toBe(1_926_234_750_123_456_789n);
  expect(ns('1.926234750123456789e9', 'unix-seconds')).toBe(1_926_234_750_123_456_789n);
  expect(ns('-0.25', 'unix-seconds')).toBe(-250_000_000n);
  expect(ns('-1.000000001', 'unix-seconds')).toBe(-1_000_000_001n);
  for (const bad of ['', '.', '-', '1e', 'nan', 'Infinity', '0x10', '1 2', '99999999999999999']) {
    expect(parseStamp(bad, spec('unix-seconds'))).toBeNull();
  }
});

test('an elapsed code counts from the epoch that the session states', () => {
  const from = utc('2031-04-17T09:00:00Z');
  expect(stampSeconds('750', spec('elapsed-seconds', 'UTC', from), zero)).toBe(0);
  expect(makeStampReader(spec('elapsed-seconds', 'UTC', from), zero)('750.5')).toBe(0.5);
});

test('a date beyond the table is a warning, a date inside it is silent', () => {
  expect(leapSecondIssue(utc('2027-06-27T23:59:59Z'))).toBeNull();
  expect(leapSecondIssue(utc('2027-06-28T00:00:00Z'))?.code).toBe('leap-second-table-expired');
  expect(leapSecondIssue(zero)?.severity).toBe('warning');
  expect(leapSecondIssue(utc('1971-12-31T23:59:59Z'))?.code).toBe('before-leap-second-table');
});

test('format then parse gives the instant back on every scale (seeded)', () => {
  const random = seededRandom(20310417);
  for (let round = 0; round < 2000; round += 1) {
    const instant = {
      taiNs:
        BigInt(Math.floor(random() * 2e9)) * 1_000_000_000n + BigInt(Math.floor(random() * 1e9)),
    };
    for (const scale of TIME_SCALES) {
      for (const date of ['calendar', 'day-of-year'] as const) {
        const text = formatInstant(instant, scale, { decimals: 9, date });
        expect(parseInstant(text, scale), text).toEqual(instant);
      }
    }
  }
});

test('the quick reader agrees with the exact one to the last bit (seeded)', () => {
  const random = seededRandom(4);
  for (const code of TIME_CODES) {
    for (const scale of TIME_SCALES) {
      const stated = spec(code, scale, utc('2031-04-17T08:00:00.1Z'));
      const read = makeStampReader(stated, zero);
      for (let round = 0; round < 200; round += 1) {
        const text = writeStamp(code, scale, random);
        const week = code === 'gps-week-seconds' ? '2675' : text;
        expect(read(week, text), `${code} ${text}`).toBe(stampSeconds(week, stated, zero, text));
      }
    }
  }
});

function writeStamp(code: TimeCode, scale: TimeScale, random: () => number): string {
  const instant = addSeconds(zero, Math.round(random() * 4e8) / 1000 - 2e5);
  const decimals = Math.floor(random() * 10);
  if (code === 'iso8601' || code === 'ccsds-a') return formatInstant(instant, scale, { decimals });
  if (code === 'ccsds-b') return formatInstant(instant, scale, { decimals, date: 'day-of-year' });
  if (code === 'unix-milliseconds') return (random() * 2e12).toFixed(2);
  if (code === 'unix-nanoseconds') return (random() * 2e18).toFixed(0);
  if (code === 'julian-date') return (2_463_000 + random() * 2000).toFixed(9);
  if (code === 'elapsed-dhms')
    return `${Math.floor(random() * 99)}:30:${(10 + random() * 49).toFixed(3)}`;
  return (random() * 6e5).toFixed(decimals);
}

test('seconds between instants come back when they are added (seeded)', () => {
  const random = seededRandom(9);
  for (let round = 0; round < 500; round += 1) {
    const durationS = Math.round((random() - 0.5) * 1e15) / 1e9;
    expect(secondsBetween(zero, addSeconds(zero, durationS))).toBe(durationS);
  }
});

/** The spellings of ground systems and spreadsheets: common practice, no source. */
test.each([
  '2031/04/17 09:12:30.5',
  '2031-04-17 09:12:30.5 Z',
  '2031-04-17 09:12:30.5 UTC',
  '2031-04-17T09:12:30.5UTC',
  '2031:107:09:12:30.5',
  '2031/107/09:12:30,5',
])('date text %j is half a second after zero', (text) => {
  expect(stampSeconds(text, spec('iso8601'), zero)).toBe(0.5);
  expect(makeStampReader(spec('iso8601'), zero)(text)).toBe(0.5);
});

test.each([
  ['2031-04-17 09:12:30 UTC', 'iso8601', 'TAI'],
  ['2031:107:09:12:30', 'ccsds-a', 'UTC'],
  ['2031/04/17 09:12:30', 'ccsds-b', 'UTC'],
  ['2031/04-17 09:12:30', 'iso8601', 'UTC'],
  ['2031:04:17 09:12:30', 'iso8601', 'UTC'],
  ['17/04/2031 09:12:30', 'iso8601', 'UTC'],
  ['2031-04-17 09:12:30 GMT', 'iso8601', 'UTC'],
] as const)('%j is no stamp of %s on %s', (text, code, scale) => {
  expect(parseStamp(text, spec(code, scale))).toBeNull();
  expect(makeStampReader(spec(code, scale), zero)(text)).toBeNaN();
});
