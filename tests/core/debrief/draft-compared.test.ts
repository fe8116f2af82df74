import { expect, test } from 'vitest';
import { type DebriefMaterial, makeMaterial } from '@/lib/core/debrief/debrief-material';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { runsText } from '@/lib/core/debrief/html/html-runs';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import type { ResolvedBlock } from '@/lib/core/debrief/resolved';
import type { DebriefTemplate } from '@/lib/core/debrief/template/template';
import type { Comparison, RunGroup } from '@/lib/core/reconstruction/comparison';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { FLOWN_PLAN, flownFinal, sessionOf, TEST_ENGINE } from '../../support/flown-session';
import { countingIds, sampleMaterial } from '../../support/sample-material';

const runs = [3, 4, 5].map((seed) => ({ ...flownFinal(seed), file: `run-${seed}.csv` }));
const task = {
  name: 'dock',
  pilot: 'P',
  fromS: 60,
  toS: 120,
  quantity: 'y',
  target: 0,
  desired: 0.01,
  adequate: 2,
  by: null,
  reason: null,
};
const rating = (value: number, rater: string) => ({
  task: 'dock',
  scale: 'cooper-harper',
  answers: {
    controllable: 'yes',
    adequate: 'yes',
    satisfactory: value > 4 ? 'no' : 'yes',
  } as const,
  rating: value,
  rater,
  remark: null,
  by: null,
  reason: null,
});
const { reconstruction } = reconstruct(
  {
    ...sessionOf([flownFinal(1)], { ...FLOWN_PLAN, steps: FLOWN_PLAN.steps.slice(2) }),
    simulations: { files: 'run-*.csv', like: 'telemetry.csv', sha256: 'b'.repeat(64), runs },
    handlingTasks: [task, { ...task, name: 'look', quantity: 'attitude_error.roll' }],
    handlingRatings: [rating(5, 'P'), rating(2, 'Q')],
  },
  TEST_ENGINE,
);
if (reconstruction.comparison === null) throw new Error('nothing was compared');
const three: Comparison = reconstruction.comparison;

function materialOf(change: Partial<Reconstruction>): DebriefMaterial {
  return makeMaterial({ ...sampleMaterial, reconstruction: { ...reconstruction, ...change } });
}

/** The comparison as it would be of `count` predictions, the flight's own numbers as they are. */
function ofRuns(count: number, change: Partial<Comparison> = {}): Comparison {
  const [group] = three.groups as [RunGroup];
  const names = Array.from({ length: count }, (_, index) => `run-${index}.csv`);
  const scores = three.scores.map((score) => ({
    ...score,
    runs: count,
    runsBelow: 1,
    runsAbove: count - 1,
  }));
  return { ...three, runs: count, groups: [{ ...group, names }], scores, ...change };
}

function draftOf(material: DebriefMaterial, template: DebriefTemplate | null = null) {
  const doc = draftDebrief(material, BUILT_IN_BLOCKS, countingIds(), template);
  return resolveDocument(doc, material, BUILT_IN_BLOCKS);
}

function wordsOf(blocks: readonly ResolvedBlock[]): string {
  return blocks
    .map((block) => {
      if (block.kind === 'paragraph') return runsText(block.runs);
      return block.kind === 'list' ? block.items.map(wordsOf).join('\n') : '';
    })
    .join('\n')
    .replaceAll('\u00a0', ' ');
}

/** Words and captions of tables under a heading; null where the draft has no such heading. */
function section(material: DebriefMaterial, title: string, template?: DebriefTemplate) {
  const { blocks } = draftOf(material, template);
  const start = blocks.findIndex(
    (block) => block.kind === 'heading' && runsText(block.runs) === title,
  );
  if (start < 0) return null;
  const rest = blocks.slice(start + 1);
  const end = rest.findIndex((block) => block.kind === 'heading');
  const own = rest.slice(0, end < 0 ? rest.length : end);
  const tables = own.flatMap((block) => (block.kind === 'table' ? [block.caption] : []));
  return { text: wordsOf(own), tables };
}

const compared = (comparison: Comparison) =>
  section(materialOf({ comparison }), 'Comparison with the simulator')?.text ?? '';

/** A figure of a quantity or an axis with another value. */
const valued = <T extends { value: number | null }>(figure: T, value: number): T => ({
  ...figure,
  value,
});

test('without runs and tasks a draft has neither section; a template that wants them is told why', () => {
  const none = materialOf({ comparison: null, handling: { tasks: [], astray: [] } });
  expect(section(none, 'Comparison with the simulator')).toBeNull();
  expect(section(none, 'Handling')).toBeNull();
  const wanted: DebriefTemplate = {
    title: 'T',
    sections: (['comparison', 'handling'] as const).map((name) => ({
      id: name,
      section: name,
      heading: null,
      text: [],
      required: [],
    })),
  };
  expect(section(none, 'Comparison with the simulator', wanted)?.text).toBe(
    'The flight was held against no simulator runs.',
  );
  expect(section(none, 'Handling', wanted)?.text).toBe(
    'No task was flown by hand, as far as the session says.',
  );
});

test('few runs are counted by kind, and nothing is said to stand out', () => {
  const text = compared(three);
  expect(text).toContain('was held against three predictions of the simulator.');
  expect(text).toContain('So few say little: at least 20 are asked');
  expect(text).not.toMatch(/loose|band|p at most/i);
  const [group] = three.groups as [RunGroup];
  const one = compared({ ...three, runs: 1, groups: [{ ...group, names: ['run-3.csv'] }] });
  expect(one).toContain('against one prediction of the simulator. One says how far apart');
});

test('kinds, other flights and runs that were left out are each counted', () => {
  const [group] = three.groups as [RunGroup];
  const text = compared(
    ofRuns(24, {
      groups: [
        { ...group, names: Array.from({ length: 23 }, (_, index) => `p${index}`) },
        { ...group, basis: 'reconstruction', names: ['r'], differs: ['mass'], unstated: [] },
        { ...group, isFlight: true, names: ['f'] },
      ],
      leftOut: [{ name: 'bad.csv', reason: 'its final step is not found' }],
    }),
  );
  expect(text).toContain(
    'against 23 predictions and one reconstruction of the simulator and one other flight. Bands and ranks rest on 24 of them alone. One run could not be compared and is in no number.',
  );
});

test('what lies outside the band stands beside what chance puts there', () => {
  const share = (outside: number) =>
    three.quantities.map((quantity) => ({
      ...quantity,
      shareOutside: valued(quantity.shareOutside, quantity.name === 'z' ? outside : 0.01),
      chanceP95: valued(quantity.chanceP95, 0.22),
    }));
  expect(compared(ofRuns(60, { quantities: share(0.34) }))).toContain(
    'The flight leaves the band from the 5th to the 95th percentile of the runs more often than chance alone lets single runs: offset along z at 34 % of the places (95 of 100 single runs: at most 22 %). In every other quantity it does not.',
  );
  expect(compared(ofRuns(60, { quantities: share(0.2) }))).toContain(
    'In no quantity does the flight leave the band from the 5th to the 95th percentile of the runs more often than chance alone lets single runs; nearest to it is offset along z at 20 % of the places',
  );
});

test('a loose axis is named with its ratio and interval; without one the draft says so', () => {
  const axes = three.axes.map((axis) => ({ ...axis, verdict: 'usual' as const }));
  expect(compared(ofRuns(60, { axes }))).toContain('No axis is loose or tight.');
  const [first, ...others] = axes;
  if (first === undefined) throw new Error('no axis');
  const ratio = {
    ...first.ratio,
    value: 2.41,
    uncertainty: { random: 0.12, systematic: null },
  };
  const text = compared(ofRuns(60, { axes: [{ ...first, ratio, verdict: 'loose' }, ...others] }));
  expect(text).toMatch(
    /Loose beside the runs: .+, whose deviation was 2\.41 ± 0\.12 times that of the median run\./,
  );
  expect(text).not.toContain('No axis is loose');
});

// Source: exchangeability of flight and N runs: beyond all of 60 at most 1/61 = 0.0164. S. S. Wilks 1941:
// 59 runs for 95 %/95 % on one side, 93 on both, 852 for 99.73 %/90 % (log(0.1) / log(0.9973)).
test('beyond all runs is p at most 1/(N + 1), and claims that the runs cannot carry are named', () => {
  const scores = ofRuns(60).scores.map((score, index) =>
    index === 0 ? { ...score, runsBelow: 60, runsAbove: 0 } : score,
  );
  const sixty = compared(ofRuns(60, { scores }));
  expect(sixty).toMatch(
    /Of the \w+ numbers looked at, one lies beyond all runs: .+ in the median run\. Beyond/,
  );
  const chance = materialOf({ comparison: ofRuns(60) }).figures.get('comparison.chance_beyond_all');
  expect(chance?.value).toBeCloseTo(1 / 61, 12);
  expect(sixty).toContain('p at most 1/(N + 1) on one side, here 0.016');
  expect(sixty).toMatch(/cannot carry the claim .*\(93 are needed\), or .*\(852 are needed\)\./);
  expect(sixty).not.toContain('(59 are needed)');
  expect(compared(ofRuns(58))).toContain('(59 are needed)');
  expect(compared(ofRuns(900))).not.toContain('cannot carry');
  expect(compared(ofRuns(60))).toMatch(/numbers looked at, none lies beyond all runs\./);
});

test('each task stands with its bounds, its measures, the runs and the ratings that differ', () => {
  const [dock = '', look = ''] = section(materialOf({}), 'Handling')?.text.split('\n') ?? [];
  expect(dock).toMatch(
    /^“dock” asked for offset along y within 0\.01\d? m \(desired\) and 2(\.0+)? m \(adequate\) and was flown by P from 00:01:00(\.0+)? to 00:02:00(\.0+)?\./,
  );
  expect(dock).toMatch(/inside the adequate ones for 100 %: only the adequate bounds were kept\./);
  expect(dock).toMatch(/In the median run it was inside them for [\d.]+( ± [\d.]+)? % and 100 %\./);
  expect(dock).toContain('It has two ratings.');
  expect(dock).toContain('Q’s rating of 2 on the scale');
  expect(dock).not.toContain('P’s rating');
  expect(look).toMatch(
    /It was not measured: no source shows attitude_error\.roll\. Nobody rated it\.$/,
  );
});

test('both sections end with their tables', () => {
  expect(section(materialOf({}), 'Comparison with the simulator')?.tables).toHaveLength(2);
  expect(section(materialOf({}), 'Handling')?.tables).toHaveLength(1);
});
