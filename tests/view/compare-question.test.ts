import { expect, test } from 'vitest';
import type { AlignedComparison } from '@/lib/core/reconstruction/comparison';
import { compareForm, questionOfQuery } from '@/lib/view/compare-question';

test('the address names the step that is passed through, and the form offers it again', () => {
  const aligned = {
    order: [],
    choices: { steps: ['to-20', 'final'], closing: ['to-20'], events: [] },
  } satisfies Pick<AlignedComparison, 'order' | 'choices'>;
  for (const kind of ['axial', 'range'] as const) {
    const question = questionOfQuery(`along=${kind}%3Ato-20`);
    expect(question?.alignment).toEqual({ kind, step: 'to-20' });
    if (question === null) continue;
    const form = compareForm(question, aligned as unknown as AlignedComparison, []);
    expect(form.along).toBe(`${kind}:to-20`);
    expect(form.alongChoices.map(({ value }) => value)).toContain(`${kind}:to-20`);
  }
  expect(questionOfQuery('along=range')?.alignment).toEqual({ kind: 'range' });
});
