import { expect, test } from 'vitest';
import { makeMaterial } from '@/lib/core/debrief/debrief-material';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { openEvidenceBook } from '@/lib/core/debrief/resolve-context';
import type { ModelChange } from '@/lib/core/findings/model-change';
import { listFigures } from '@/lib/core/reconstruction/list-figures';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { FLOWN_PLAN, flownFinal, sessionOf, TEST_ENGINE } from '../../support/flown-session';
import { sampleMaterial } from '../../support/sample-material';

const runs = [3, 4, 5].map((seed) => ({ ...flownFinal(seed), file: `run-${seed}.csv` }));
const none = { by: null, reason: null };
const input = {
  ...sessionOf([flownFinal(1)], { ...FLOWN_PLAN, steps: FLOWN_PLAN.steps.slice(2) }),
  simulations: { files: 'run-*.csv', like: 'telemetry.csv', sha256: 'b'.repeat(64), runs },
  handlingTasks: [
    {
      name: 'dock',
      pilot: 'P',
      fromS: 60,
      toS: 120,
      quantity: 'y',
      target: 0,
      desired: 1,
      adequate: 2,
      ...none,
    },
  ],
  handlingRatings: [
    {
      task: 'dock',
      scale: 'task-load',
      answers: {},
      rating: 45,
      load: {
        mental: 70,
        physical: 20,
        temporal: 55,
        performance: 30,
        effort: 60,
        frustration: 35,
      },
      rater: 'P',
      remark: null,
      ...none,
    },
  ],
};
const { reconstruction } = reconstruct(input, TEST_ENGINE);
const key = 'comparison.scores[y_std_final_m].flight';
const figure = listFigures(reconstruction).get(key);
if (figure === undefined) throw new Error('no figure');
const change: ModelChange = {
  id: 'c1',
  number: 1,
  version: 1,
  parameter: 'Offset of the sensor',
  now: '8 mm',
  proposed: '35 mm',
  owner: '',
  state: 'proposed',
  figures: [{ key, label: 'Deviation along y', figure }],
  author: 'A',
  updatedAtIso: '2027-01-01T00:00:00.000Z',
  removed: 'standing',
  undoable: 0,
};
const material = makeMaterial({
  ...sampleMaterial,
  reconstruction,
  modelChanges: [change, { ...change, id: 'c2', removed: 'removed' }],
});

function resolved(name: string) {
  const book = openEvidenceBook([]);
  const block = BUILT_IN_BLOCKS.get(name);
  const [table] = block?.resolve({ id: 'b1', caption: 'c' }, { material, book }) ?? [];
  if (table?.kind !== 'table') throw new Error(`${name} gave no table`);
  return { table, methods: book.evidence().map(({ method }) => method), sources: book.sources() };
}

test('axes and numbers of the step stand with the runs behind them', () => {
  for (const name of ['axisTable', 'comparisonTable']) {
    const { table, methods, sources } = resolved(name);
    expect(table.rows.length, name).toBeGreaterThan(2);
    expect(methods.join(), name).toContain('Of 3 runs: run-3.csv to run-5.csv.');
    expect(
      sources.map(({ file }) => file),
      name,
    ).toContain('run-*.csv');
  }
});

test('a rating stands beside what was measured, a removed change does not stand', () => {
  const words = (name: string) => JSON.stringify(resolved(name).table.rows);
  expect(words('ratingTable')).toContain('45.0');
  expect(resolved('modelChangeTable').table.rows).toHaveLength(1);
  expect(words('modelChangeTable')).toContain('Deviation along y');
});
