import { expect, test } from 'vitest';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { nameOfRun } from '@/lib/core/reconstruction/run-name';
import { countingIds, sampleMaterial } from '../../support/sample-material';
import { sampleReconstruction } from '../../support/sample-reconstruction';

/** By definition: a run is called on paper what it is called on the screens. */
test('each rate deviation stands under the name of its run, pieces that have none counted too', () => {
  const { phases } = sampleReconstruction;
  const first = phases.findIndex(({ rateDeviation }) => rateDeviation !== null);
  const withoutFirst = phases.map((phase, index) =>
    index === first ? { ...phase, rateDeviation: null } : phase,
  );
  const named = (shown: typeof phases): readonly string[] => {
    const material = {
      ...sampleMaterial,
      reconstruction: { ...sampleReconstruction, phases: shown },
    };
    const doc = draftDebrief(material, BUILT_IN_BLOCKS, countingIds());
    const content = (doc.content ?? []).filter(({ type }) => type === 'deviationTable');
    const [block] = resolveDocument({ type: 'doc', content }, material, BUILT_IN_BLOCKS).blocks;
    if (block?.kind !== 'table') throw new Error('the block is a table');
    return block.rows.map(([name]) =>
      (name?.runs ?? []).map((run) => (run.kind === 'break' ? '' : run.text)).join(''),
    );
  };
  expect(named(phases)).toEqual(['Approach, piece 1 of 2', 'Approach, piece 2 of 2']);
  expect(named(withoutFirst)).toEqual(['Approach, piece 2 of 2']);
  expect(nameOfRun(sampleReconstruction, first)).toBe('Approach, piece 1 of 2');
});
