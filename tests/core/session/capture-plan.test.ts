import { expect, test } from 'vitest';
import { CONTACT_LIMITS, contactLimitsOf } from '@/lib/core/rules/contact-limits';
import { DEFAULT_CAPTURE } from '@/lib/core/session/capture-plan';
import { readPlanFile } from '@/lib/core/session/read-plan-file';

const planWith = (more: string): string => `plan:
  title: Test
  hold_rate_mps: 0.02
  hold_dwell_s: 10
  steps: [{ id: final, to_m: 0, planned_s: 400, closing_rate_mps: [[30, 0.08]], tolerance_mps: 0.02 }]
${more}`;

test('a plan that says nothing has the usual stages and the limits of the docking standard', () => {
  const { value, issues } = readPlanFile(planWith(''), 'plan.yaml');
  expect(issues).toEqual([]);
  expect(value?.capture).toBeUndefined();
  expect(contactLimitsOf(value)).toBe(CONTACT_LIMITS);
  expect(DEFAULT_CAPTURE.latches).toBe(12);
});

test('stages and limits of the mechanism flown are read', () => {
  const { value, issues } = readPlanFile(
    planWith(`  contact_limits: { source: Ring handbook, closing_rate_mps: [0.02, 0.12], body_rate_roll_dps: 0.4 }
  capture:
    soft_capture: { event: caught, after_contact_s: 6, tolerance_s: 4 }
    hard_capture: { after_contact_s: 300, latches: 8 }
`),
    'plan.yaml',
  );
  expect(issues).toEqual([]);
  const limits = contactLimitsOf(value).limits;
  expect(limits.map(({ condition }) => condition)).toEqual(['closing_rate', 'body_rate_roll']);
  expect(limits[0]).toMatchObject({ atLeast: 0.02, atMost: 0.12, unit: 'm/s' });
  expect(limits[1]?.atMost).toBeCloseTo((0.4 * Math.PI) / 180, 12);
  expect(value?.capture?.stages.map(({ event, afterContactS }) => [event, afterContactS])).toEqual([
    ['caught', 6],
    ['motion-damped', null],
    ['ring-retraction', null],
    ['hard-capture', 300],
  ]);
  expect(value?.capture?.latches).toBe(8);
});

test('stages planned out of order and reversed limits are errors with their lines', () => {
  const { value, issues } = readPlanFile(
    planWith(`  contact_limits: { source: Ours, closing_rate_mps: [0.2, 0.1] }
  capture:
    soft_capture: { after_contact_s: 60 }
    damping: { after_contact_s: 30 }
    latching: { after_contact_s: 90 }
`),
    'plan.yaml',
  );
  expect(value).toBeNull();
  expect(issues.map(({ line, keyPath, code }) => [line, keyPath, code])).toEqual([
    [6, 'plan.contact_limits.closing_rate_mps', 'bounds-reversed'],
    [9, 'plan.capture.damping.after_contact_s', 'capture-order'],
    [10, 'plan.capture.latching', 'key-unknown'],
  ]);
});
