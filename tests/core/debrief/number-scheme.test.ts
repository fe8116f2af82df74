import { expect, test } from 'vitest';
import { designationOf, schemeFault, USUAL_SCHEME } from '@/lib/core/debrief/number-scheme';

const PLACE = { number: 7, publishedAtIso: '2027-04-06T13:05:00.000Z' };

test.each([
  [USUAL_SCHEME, 'Debrief 7'],
  ['ARR-{year}-{number:3}', 'ARR-2027-007'],
  ['{number:1}/{year} (arrivals)', '7/2027 (arrivals)'],
])('%s gives %s', (scheme, designation) => {
  expect(schemeFault(scheme)).toBeNull();
  expect(designationOf(scheme, PLACE)).toBe(designation);
});

test('a number longer than its places stays whole', () => {
  expect(designationOf('{number:2}', { ...PLACE, number: 1234 })).toBe('1234');
});

test.each([
  ['', /empty/],
  ['ARR', /needs \{number\} once/],
  ['{number} {number}', /once/],
  ['{number} {month}', /In braces/],
  ['{number}<b>', /may stand/],
  [`{number}${'x'.repeat(60)}`, /more than 60/],
])('%j is refused with one sentence', (scheme, message) => {
  expect(schemeFault(scheme)).toMatch(message);
});
