/** Why nothing is compared: the first thing that is lacking, one at a time. */
import { expect, test } from 'vitest';
import { whyNoComparison } from '@/lib/view/why-no-comparison';
import { samplePlan } from '../support/sample-plan';
import { sampleReconstruction } from '../support/sample-reconstruction';

test('without a plan, without a move at its end, without that move flown, without runs', () => {
  const { steps } = sampleReconstruction;
  const heldOnly = { ...samplePlan, steps: samplePlan.steps.filter(({ kind }) => kind === 'hold') };
  expect(whyNoComparison({ plan: null, steps })).toMatch(/has no plan/);
  expect(whyNoComparison({ plan: heldOnly, steps })).toMatch(/does not end in one/);
  expect(whyNoComparison({ plan: samplePlan, steps: [] })).toMatch(/was not flown/);
  expect(whyNoComparison({ plan: samplePlan, steps })).toMatch(/no simulator runs/);
});
