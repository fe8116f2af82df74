import { expect, test } from 'vitest';
import { evaluateRule } from '@/lib/core/rules/rule-kinds';
import type { BandRule } from '@/lib/core/session/rule';
import { expectWithin } from '../../support/expect-within';
import { contextOf, exactly } from '../../support/rule-signal';

const RULE: BandRule = {
  kind: 'band',
  id: 'limit',
  statement: 'At most 0.5.',
  when: null,
  quantity: { kind: 'named', name: 'signal' },
  low: null,
  high: { kind: 'constant', value: 0.5 },
  persistsS: 0,
  unit: 'm',
};

/**
 * By hand: 8,000 rows a second apart go from 1 mm under the limit to 1 mm over it and back. Their noise of 10 mm
 * tells no edge: each may lie anywhere from the first row to the last, half of 7,999 s to either side.
 */
test('thousands of edges that noise does not tell are done in a moment', { timeout: 2000 }, () => {
  const tS = Float64Array.from({ length: 8000 }, (_, row) => row);
  const value = tS.map((row) => 0.5 + (row % 2 === 0 ? -0.001 : 0.001));
  const sd = new Float64Array(8000).fill(0.01);
  const context = contextOf({ quantity: () => exactly({ tS, value }, 'm', { sd }) });
  const { exceedances } = evaluateRule(RULE, context);
  expect(exceedances.length).toBe(4000);
  for (const at of [0, 1, 1999, 3998]) {
    expectWithin(exceedances[at]?.startHalfS, 7999 / 2, 1e-9, 'rounding');
    expectWithin(exceedances[at]?.endHalfS, 7999 / 2, 1e-9, 'rounding');
  }
  // The last one ends with the data, where no edge is.
  expectWithin(exceedances[3999]?.endHalfS, 0.475, 1e-12, 'rounding');
});
