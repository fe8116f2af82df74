import { expect, test } from 'vitest';
import { stampHint } from '@/lib/core/intake/stamp-words';
import { findDateOrder, isoOfOrdered, numbersBeforeYear } from '@/lib/core/time/ordered-date';
import { parseInstant } from '@/lib/core/time/parse';
import { makeStampReader, stampSeconds } from '@/lib/core/time/stamp-reader';
import type { TimeSpec } from '@/lib/core/time/time-code';

function utc(text: string) {
  const instant = parseInstant(text, 'UTC');
  if (instant === null) throw new Error(`not a stamp: ${text}`);
  return instant;
}

const zero = utc('2031-04-17T09:12:30Z');

function spec(over: Partial<TimeSpec> = {}): TimeSpec {
  return { columns: ['t'], code: 'iso8601', scale: 'UTC', from: zero, ...over };
}

/** Source: ISO 8601-1:2019, 5.2.2.1, 5.2.3.1 and 5.3.1.2: basic formats beside the extended ones. */
test.each([
  ['20310417T091230Z', '2031-04-17T09:12:30Z'],
  ['20310417T091230.25Z', '2031-04-17T09:12:30.25Z'],
  ['20310417T0912', '2031-04-17T09:12'],
  ['20310417T111230+0200', '2031-04-17T11:12:30+02:00'],
  ['2031107T091230,5', '2031-107T09:12:30,5'],
  ['20310417 09:12:30', '2031-04-17 09:12:30'],
])('the basic format %s is %s', (basic, extended) => {
  expect(stampSeconds(basic, spec(), zero)).toBe(stampSeconds(extended, spec(), zero));
  expect(makeStampReader(spec(), zero)(basic)).toBe(stampSeconds(extended, spec(), zero));
});

test.each([
  '20310417T0912301',
  '20310417T9123',
  '20311317T091230',
  '2031366T091230',
  '203104170912',
])('%s is no stamp of the basic format', (text) =>
  expect(stampSeconds(text, spec(), zero)).toBeNaN(),
);

test('a CCSDS code takes the segmented form alone', () => {
  expect(stampSeconds('20310417T091230', spec({ code: 'ccsds-a' }), zero)).toBeNaN();
});

test.each([
  ['17/04/2031 09:12:30', 'day-month-year', '2031-04-17 09:12:30'],
  ['4/17/2031 9:12:30.5 PM', 'month-day-year', '2031-04-17 21:12:30.5'],
  ['17.04.2031 12:00 a.m.', 'day-month-year', '2031-04-17 00:00'],
  ['5-4-2031T09:12:30Z', 'day-month-year', '2031-04-05 09:12:30Z'],
] as const)('%s, %s, is %s', (text, order, iso) => {
  expect(isoOfOrdered(text, order)).toBe(iso);
  const read = makeStampReader(spec({ dateOrder: order }), zero);
  expect(read(text)).toBe(stampSeconds(iso, spec(), zero));
});

test.each(['17/04.2031 09:12', '17/04/31 09:12', '17/04/2031 13:00 PM', '17/04/2031'])(
  '%s is no such date and time',
  (text) => expect(isoOfOrdered(text, 'day-month-year')).toBeNull(),
);

test('without a stated order no date that ends in the year is read', () => {
  expect(stampSeconds('17/04/2031 09:12:30', spec(), zero)).toBeNaN();
});

test('the order is what the largest numbers allow', () => {
  expect(findDateOrder(17, 4)).toBe('day-month-year');
  expect(findDateOrder(12, 13)).toBe('month-day-year');
  expect(findDateOrder(12, 12)).toBe('open');
  expect(findDateOrder(13, 13)).toBe('mixed');
  expect(numbersBeforeYear('05/04/2031')).toEqual([5, 4]);
  expect(numbersBeforeYear('2031/04/05')).toBeNull();
});

/** Source: ISO 8601-1:2019/Amd 1:2022, 5.3.1.4: 24:00:00 is the end of a day (clause from memory). */
test.each([
  ['2031-04-17T24:00:00Z', '2031-04-18T00:00:00Z'],
  ['2031-04-17T24:00', '2031-04-18T00:00:00Z'],
  ['2031-12-31T24:00:00+02:00', '2031-12-31T22:00:00Z'],
  ['2016-12-31T24:00:00.000Z', '2017-01-01T00:00:00Z'],
])('%s is %s', (text, wanted) => {
  expect(parseInstant(text, 'UTC')).toEqual(utc(wanted));
  expect(makeStampReader(spec(), zero)(text)).toBe(stampSeconds(wanted, spec(), zero));
});

test.each([
  '2031-04-17T24:00:01Z',
  '2031-04-17T24:00:00.5Z',
  '2031-04-17T24:01Z',
  '2031-04-17T25:00Z',
])('%s is no time of a day', (text) => expect(parseInstant(text, 'UTC')).toBeNull());

test.each([
  ['17/04/31 09:12:30', 'write years with four digits'],
  ['31-107T09:12:30', 'write years with four digits'],
  ['17-Apr-2031 09:12:30', 'write months as numbers, 2031-04-17'],
  ['2031-04-17T23:59:60Z', 'the leap-second table has no second 60 there'],
  ['2031-04-17T24:00:01Z', 'a day ends at 24:00:00'],
])('of %s it is said what to write', (text, wanted) => {
  expect(parseInstant(text, 'UTC')).toBeNull();
  expect(stampHint(text)).toBe(`; ${wanted}`);
});

test('of a cell that is no date at all nothing more is said', () => {
  expect(['abc', '12.5', '2031-04-17T09:61:00Z', ''].map(stampHint)).toEqual(['', '', '', '']);
});
