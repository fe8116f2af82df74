/** What a draft does to sessions: which rules and steps, by how much, and decisions to look at again. */
import { expect, test } from 'vitest';
import { readingDifferences } from '@/lib/core/reconstruction/reading-differences';
import { contactLimitTable } from '@/lib/core/session/contact-limit-table';
import { compareView } from '@/lib/view/plans/compare-view';
import { trialView } from '@/lib/view/plans/trial-view';
import { sampleReconstruction } from '../../support/sample-reconstruction';

const session = {
  sessionId: 's',
  title: 'Arrival',
  sameRuleCount: 0,
  sameStepCount: 0,
  unknownSteps: [],
  dispositions: [],
  fault: null,
};

function viewOf(after: typeof sampleReconstruction, more: object = {}) {
  const differences = readingDifferences(sampleReconstruction, after);
  const sessions = [{ ...session, differences, ...more }];
  const trial = { sha256: 'x', title: 'Rules', sessions };
  return trialView({ jobId: 'j', createdAtIso: '2026-03-01T00:00:00.000Z', trial });
}

test('the same reading differs nowhere', () => {
  const view = viewOf(sampleReconstruction);
  expect(view.summary).toBe('reads the same');
  const rows = view.sessions.flatMap(({ tables }) => tables.flatMap((table) => table.rows));
  expect(rows.length).toBeGreaterThan(3);
  expect(rows.filter(({ differs, difference }) => differs || difference !== '')).toEqual([]);
});

test('a margin that shrank is picked out with the way it went; other words alone are not', () => {
  const [first, ...others] = sampleReconstruction.rules.filter(({ margin }) => margin !== null);
  const margin = first?.margin ?? null;
  if (first === undefined || margin?.value == null) throw new Error('the sample has a margin');
  const changed = { ...first, margin: { ...margin, value: margin.value - 0.25 } };
  const reworded = others.map((rule) => ({ ...rule, explanation: 'in other words' }));
  const after = { ...sampleReconstruction, rules: [changed, ...reworded] };
  const before = { ...sampleReconstruction, rules: [first, ...others] };
  const differences = readingDifferences(before, after);
  expect(differences.rules.filter(({ differs }) => differs).map(({ id }) => id)).toEqual([
    first.id,
  ]);
  const sessions = [{ ...session, differences, sameRuleCount: others.length }];
  const trial = { sha256: 'x', title: 'Rules', sessions };
  const view = trialView({ jobId: 'j', createdAtIso: '2026-03-01T00:00:00.000Z', trial });
  expect(view.summary).toMatch(/^1 of \d+ rules? would read differently$/);
  const row = view.sessions[0]?.tables[0]?.rows.find(({ differs }) => differs);
  expect(row?.difference).toMatch(/^−0\.25/);
});

test('a rule that is broken once less is picked out, though its margin stayed', () => {
  const [gone] = sampleReconstruction.exceedances;
  if (gone === undefined) throw new Error('the sample has an exceedance');
  const view = viewOf({ ...sampleReconstruction, exceedances: [] });
  const rows = view.sessions[0]?.tables[0]?.rows.filter(({ differs }) => differs) ?? [];
  expect(rows.map(({ key }) => key)).toContain(`rule-${gone.rule}`);
  expect(rows[0]?.difference).toMatch(/^−[\d.]+\u00a0s beyond$/);
});

test('a depth that changed is listed though verdict, margin and time beyond stayed', () => {
  const [first, ...others] = sampleReconstruction.exceedances;
  if (first?.worst.value == null) throw new Error('the sample has an exceedance');
  const deeper = { ...first, worst: { ...first.worst, value: first.worst.value + 0.02 } };
  const view = viewOf({ ...sampleReconstruction, exceedances: [deeper, ...others] });
  const rows = view.sessions[0]?.tables.flatMap((table) => table.rows) ?? [];
  const [row, ...more] = rows.filter(({ differs }) => differs);
  expect(more).toEqual([]);
  expect(row?.key).toBe(`rule-${first.rule}`);
  expect(row?.difference).toMatch(/^\+0\.020*\u00a0m\/s deepest beyond$/);
});

test('a profile that changed shows in the rate deviation of its phase alone, with by how much', () => {
  const phases = sampleReconstruction.phases.map((phase) => {
    const { rateDeviation } = phase;
    if (rateDeviation?.meanMps.value == null) return phase;
    const meanMps = { ...rateDeviation.meanMps, value: rateDeviation.meanMps.value - 0.01 };
    return { ...phase, rateDeviation: { ...rateDeviation, meanMps } };
  });
  const view = viewOf({ ...sampleReconstruction, phases });
  expect(view.summary).toMatch(/^\d phases? would read differently$/);
  const rows = view.sessions[0]?.tables.flatMap((table) => table.rows) ?? [];
  const [row] = rows.filter(({ differs }) => differs);
  expect(row?.difference).toMatch(/^−0\.010*\u00a0m\/s mean off the planned rate$/);
});

test('a limit on contact that moved shows as room, the condition itself staying', () => {
  const { plan } = sampleReconstruction;
  if (plan === null) throw new Error('the sample has a plan');
  const contactLimits = contactLimitTable('Own', 'none', { closing_rate_mps: [0.06, 0.1] });
  const view = viewOf({ ...sampleReconstruction, plan: { ...plan, contactLimits } });
  const table = view.sessions[0]?.tables.find(({ title }) => title === 'Contact and capture');
  const row = table?.rows.find(({ key }) => key === 'arrival-closing_rate');
  expect(row?.differs).toBe(true);
  expect(row?.after.text).toContain('to the limit');
  expect(row?.difference).toMatch(/^−0\.01/);
  expect(table?.rows.filter(({ after }) => after.text === 'not there').length).toBeGreaterThan(0);
});

test('a waiver about a rule that the draft drops is named', () => {
  const dispositions = [{ rule: 'corridor', disposition: 'waived', change: 'dropped' }];
  expect(viewOf(sampleReconstruction, { dispositions }).sessions[0]?.remarks).toEqual([
    'Corridor was waived, and this drops the rule: the decision stays on record, look at it again.',
  ]);
});

test('two versions are told in words, fields by name and unit', () => {
  const rule = (limit: number): string =>
    `rules:\n  - { id: rate, statement: s, quantity: range, limit: { constant: ${limit}, unit: m }, within: { range_m: [0, ${limit}] } }\n`;
  const view = compareView('rules', rule(1), rule(2));
  expect(view.summary).toBe('1 rule altered, 0 rules the same');
  expect(view.items[0]?.fields).toEqual([
    { key: 'limit.constant', field: 'Upper bound, constant', before: '1', after: '2' },
    {
      key: 'within.range_m',
      field: 'Where it applies, range (m)',
      before: '0, 1',
      after: '0, 2',
    },
  ]);
});
