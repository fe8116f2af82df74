/** Why nothing is compared: the first thing that is lacking, one at a time. */
import { expect, test } from 'vitest';
import { whyNoComparison } from '@/lib/view/why-no-comparison';
import { samplePlan } from '../support/sample-plan';
import { sampleReconstruction } from '../support/sample-reconstruction';

test('without a plan, without a move in it, without that move flown, without runs', () => {
  const { steps } = sampleReconstruction;
  const heldOnly = { ...samplePlan, steps: samplePlan.steps.filter(({ kind }) => kind === 'hold') };
  expect(whyNoComparison({ plan: null, steps })).toMatch(/has no plan/);
  expect(whyNoComparison({ plan: heldOnly, steps })).toMatch(/the plan has none/);
  expect(whyNoComparison({ plan: samplePlan, steps: [] })).toMatch(/was not flown/);
  expect(whyNoComparison({ plan: samplePlan, steps })).toMatch(/no simulator runs/);
});
