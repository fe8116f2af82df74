import { expect, test } from 'vitest';
import { checkDocument } from '@/lib/core/debrief/check-document';
import { makeMaterial } from '@/lib/core/debrief/debrief-material';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { evidenceHtml } from '@/lib/core/debrief/html/html-runs';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import type { NumberRun, TableBlock } from '@/lib/core/debrief/resolved';
import { touchedNumbers } from '@/lib/core/debrief/touched-numbers';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { sampleFigure } from '../../support/sample-figure';
import { countingIds, sampleMaterial } from '../../support/sample-material';
import { sampleReconstruction } from '../../support/sample-reconstruction';

const SENTENCE =
  'Start of Approach, set by Ada: the jets are heard later. Computed was 00:01:00.0.';
const set = sampleFigure(65, 's', 1.96);
const setS = { ...set, evidence: { ...set.evidence, people: [SENTENCE] } };
const [first, second, ...rest] = sampleReconstruction.phases;
if (first === undefined || second === undefined) throw new Error('the sample has phases');

const reconstruction: Reconstruction = {
  ...sampleReconstruction,
  phases: [first, { ...second, startS: setS }, ...rest],
  phaseEdits: {
    results: [
      {
        edit: {
          kind: 'move-edge',
          edgeS: 60,
          before: 'hold',
          after: 'closing',
          toS: 65,
          sdS: 1,
          by: 'Ada',
          reason: 'the jets are heard later',
        },
        outcome: { state: 'applied', fault: null },
        what: 'Edge from Hold 100 to Approach',
        setS,
        computedS: sampleFigure(60, 's', 0.4),
        computedStep: null,
      },
    ],
    computedRuns: [],
    computedContactS: null,
  },
};
const material = makeMaterial({ ...sampleMaterial, reconstruction });
const doc = draftDebrief(material, BUILT_IN_BLOCKS, countingIds());
const resolved = resolveDocument(doc, material, BUILT_IN_BLOCKS);

const tables = resolved.blocks.filter((block): block is TableBlock => block.kind === 'table');
const tableOf = (caption: string) => tables.find((table) => table.caption === caption);
const numbers = (table: TableBlock | undefined) =>
  (table?.rows ?? []).flatMap((row) =>
    row.flatMap(({ runs }) => runs.filter((run): run is NumberRun => run.kind === 'number')),
  );

test('a number that a person set is marked in the document, and its evidence says by whom', () => {
  const phases = tableOf('Runs of motion in the order flown');
  const marked = numbers(phases).filter(({ text }) => text.endsWith('†'));
  expect(marked.map(({ key }) => key)).toEqual(['phases[1].start_s']);
  expect(phases?.note).toMatch(/† rests on what a person set/);
  const [start] = marked;
  if (start === undefined) throw new Error('a marked number');
  expect(resolved.evidence[start.evidence]?.people).toEqual([SENTENCE]);
  expect(evidenceHtml(start, resolved)).toContain('<dt>Set by people</dt><dd>Start of Approach');
  expect(tableOf('Steps, planned and flown')?.note).not.toMatch(/†/);
});

test('the draft lists what people set beside what was computed, and the check misses the list', () => {
  const table = tableOf('What people set of phases and contact');
  const words = table?.rows[0]?.map(({ runs }) =>
    runs.map((run) => (run.kind === 'break' ? '' : run.text.replaceAll('\u00a0', ' '))).join(''),
  );
  expect(words).toEqual([
    'Edge from Hold 100 to Approach',
    '00:01:05 ± 2 s†',
    '00:01:00.0 ± 0.4 s',
    'Ada',
    'the jets are heard later',
    'counts',
  ]);
  const without = {
    ...doc,
    content: doc.content?.filter(({ type }) => type !== 'correctionTable'),
  };
  const said = checkDocument(without as typeof doc, material, BUILT_IN_BLOCKS);
  expect(said.map(({ message }) => message).join()).toContain('insert the correction table');
  const listed = checkDocument(doc, material, BUILT_IN_BLOCKS);
  expect(listed.map(({ message }) => message).join()).not.toContain('correction table');
});

test('a document without corrections carries no mark and no list', () => {
  const plain = draftDebrief(sampleMaterial, BUILT_IN_BLOCKS, countingIds());
  const text = JSON.stringify(resolveDocument(plain, sampleMaterial, BUILT_IN_BLOCKS));
  expect(text).not.toMatch(/†|people"/);
});

test('a published number that a person set reads on in its own unit when it moves', () => {
  const moved = new Map(material.figures).set('phases[1].start_s', sampleFigure(61, 's', 0.4));
  const touched = touchedNumbers(resolved.blocks, moved);
  expect(touched.map(({ published, now }) => [published, now?.replaceAll('\u00a0', ' ')])).toEqual(
    expect.arrayContaining([[expect.stringMatching(/†$/), '00:01:01.0 ± 0.4 s']]),
  );
});
