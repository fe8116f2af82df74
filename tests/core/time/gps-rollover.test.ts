import { expect, test } from 'vitest';
import { rolloverIssue } from '@/lib/core/time/gps-rollover';

const WEEK_S = 604_800;

test('weeks counted modulo 1024 are named with what they lack', () => {
  expect(rolloverIssue('a.csv', -2048 * WEEK_S + 12)?.message).toContain('2048 weeks before zero');
  expect(rolloverIssue('a.csv', -1024 * WEEK_S - 3 * WEEK_S)?.message).toContain('1024 more');
});

test('weeks counted in full, or wrong in another way, are not taken for rollovers', () => {
  expect(rolloverIssue('a.csv', 0)).toBeNull();
  expect(rolloverIssue('a.csv', -500 * WEEK_S)).toBeNull();
  expect(rolloverIssue('a.csv', 1024 * WEEK_S)).toBeNull();
});
