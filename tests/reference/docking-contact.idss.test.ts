import { expect, test } from 'vitest';
import { vectorSum } from '@/lib/core/phases/contact-conditions';
import { CONTACT_LIMITS, contactStanding } from '@/lib/core/rules/contact-limits';
import { expectWithin } from '../support/expect-within';

const DEG = Math.PI / 180;

function limitOf(condition: string) {
  const found = CONTACT_LIMITS.limits.find((limit) => limit.condition === condition);
  if (found === undefined) throw new Error(`no limit for ${condition}`);
  return found;
}

/**
 * Source: International Docking System Standard Interface Definition Document, Revision E (October
 * 2016), Table 3.3.1.1-2, initial contact conditions; read in three independent transcriptions.
 */
const TABLE: readonly (readonly [string, number | null, number, number])[] = [
  ['closing_rate', 0.05, 0.1, 1],
  ['lateral_rate', null, 0.04, 1],
  ['body_rate_pitch_yaw', null, 0.2, DEG],
  ['body_rate_roll', null, 0.2, DEG],
  ['lateral_offset', null, 0.1, 1],
  ['attitude_error_pitch_yaw', null, 4, DEG],
  ['attitude_error_roll', null, 4, DEG],
];

test.each(TABLE)('%s is bounded as printed', (condition, atLeast, atMost, unit) => {
  const limit = limitOf(condition);
  expect(limit.atLeast).toBe(atLeast);
  expect(limit.atMost).toBe(atMost * unit);
});

test('the table has these seven conditions and no other', () => {
  expect(CONTACT_LIMITS.limits.map((limit) => limit.condition).sort()).toEqual(
    TABLE.map(([condition]) => condition).sort(),
  );
});

test('closing rate has a lower bound as well, and bounds lie inside', () => {
  const limit = limitOf('closing_rate');
  expect(contactStanding(limit, 0.049)).toBe('below');
  expect(contactStanding(limit, 0.05)).toBe('inside');
  expect(contactStanding(limit, 0.1)).toBe('inside');
  expect(contactStanding(limit, 0.101)).toBe('above');
  expect(contactStanding(limit, -0.07)).toBe('below');
});

test('lateral rate 0.0400 m/s is inside, 0.0401 m/s is above', () => {
  const limit = limitOf('lateral_rate');
  expect(contactStanding(limit, 0.04)).toBe('inside');
  expect(contactStanding(limit, 0.0401)).toBe('above');
});

test('pitch 3 deg and yaw 3 deg are 4.243 deg together: above, though each is inside', () => {
  const three = { value: 3 * DEG, half: 0 };
  const sum = vectorSum(three, three).value;
  expectWithin(sum / DEG, 4.243, 5e-4, 'half the last printed digit');
  expect(contactStanding(limitOf('attitude_error_pitch_yaw'), sum)).toBe('above');
  expect(contactStanding(limitOf('attitude_error_pitch_yaw'), three.value)).toBe('inside');
});

test('a roll counts by its size, to either side', () => {
  const limit = limitOf('attitude_error_roll');
  expect(contactStanding(limit, -3.9 * DEG)).toBe('inside');
  expect(contactStanding(limit, -4.1 * DEG)).toBe('above');
});
