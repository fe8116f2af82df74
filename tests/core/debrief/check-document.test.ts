import { expect, test } from 'vitest';
import { heading, valueNode } from '@/lib/core/debrief/build-document';
import { checkDocument } from '@/lib/core/debrief/check-document';
import { type DebriefMaterial, makeMaterial } from '@/lib/core/debrief/debrief-material';
import { type DocNode, LONGEST_PLACED } from '@/lib/core/debrief/document';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { resolveFigureValue } from '@/lib/core/debrief/nodes/figure-value';
import { valueMark, withPlaced } from '@/lib/core/debrief/placed';
import { openContext } from '@/lib/core/debrief/resolve';
import { ABSENCE_CLAIMS } from '@/lib/core/debrief/stale-claims';
import { proseOf, typedNumbers } from '@/lib/core/debrief/typed-numbers';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { sampleDerived } from '../../support/sample-derived';
import { countingIds, sampleMaterial } from '../../support/sample-material';
import { sampleReconstruction } from '../../support/sample-reconstruction';

const draftOf = (material: DebriefMaterial): DocNode =>
  draftDebrief(material, BUILT_IN_BLOCKS, countingIds());

const withoutFindings = makeMaterial({ ...sampleMaterial, findings: [] });

function changed(change: Partial<Reconstruction>, findings = sampleMaterial.findings) {
  const reconstruction = { ...sampleReconstruction, ...change };
  return makeMaterial({ ...sampleMaterial, reconstruction, findings });
}

function messages(doc: DocNode, material: DebriefMaterial): readonly string[] {
  return checkDocument(doc, material, BUILT_IN_BLOCKS).map(({ message }) => message);
}

const line = (...content: DocNode[]): DocNode => ({ type: 'paragraph', content });
const text = (words: string): DocNode => ({ type: 'text', text: words });

test('a draft as the program writes it holds no number that is called typed, and nothing stale', () => {
  const said = messages(draftOf(sampleMaterial), sampleMaterial);
  expect(said.filter((each) => /typed|no longer holds/.test(each))).toEqual([]);
});

test('a drafted sentence that says there is no finding is stale once there is one', () => {
  const before = draftOf(withoutFindings);
  expect(messages(before, withoutFindings).join()).not.toContain('no longer holds');
  expect(messages(before, sampleMaterial)).toContain(
    'This no longer holds under “Findings”: “No finding has been written for this session.”',
  );
});

test('a drafted verdict is stale once the rule is judged otherwise', () => {
  const before = draftOf(sampleMaterial);
  const rules = sampleReconstruction.rules.map((rule) =>
    rule.id === 'closing-rate' ? { ...rule, verdict: 'met' as const } : rule,
  );
  expect(messages(before, changed({ rules, exceedances: [] })).join('\n')).toContain(
    'This no longer holds under “Summary”: “Rule “Closing rate” was broken”',
  );
});

test('every sentence of absence is one that the draft still writes', () => {
  const bare = {
    plan: null,
    ruleSet: [],
    rules: [],
    sources: [],
    steps: [],
    phases: [],
    exceedances: [],
    events: [],
    dataQuality: [],
    notes: [],
  } as const;
  const { contact } = sampleReconstruction;
  if (contact === null) throw new Error('the sample has a contact');
  const written = [
    { ...changed({ ...bare, contact: null }, []), plan: null, ruleSet: null },
    changed({ ...bare, contact: { ...contact, conditions: {} } }),
    changed({ phases: sampleReconstruction.phases.map((phase) => ({ ...phase, step: 'x' })) }),
    { ...changed({ ...bare, plan: sampleReconstruction.plan, contact, sources: [] }) },
    changed({
      rules: [],
      dataQuality: [],
      notes: [],
      sources: sampleReconstruction.sources.map((source) => ({ ...source, rowsRejected: 0 })),
    }),
  ].map((material) => proseOf(draftOf(material)).join('\n'));
  const all = written.join('\n');
  expect(ABSENCE_CLAIMS.filter((claim) => !all.includes(claim))).toEqual([]);
});

test('numbers with a unit, decimals or a clock are found; counts, names and dates are not', () => {
  const typed = (words: string) => typedNumbers(line(text(words)), new Set());
  expect(
    typed('It closed at 0.075 m/s, 12 s late, at 00:13:16.3, \u22121.5 deg/s and 3\u00a0%.'),
  ).toEqual(['0.075 m/s', '12 s', '00:13:16.3', '\u22121.5 deg/s', '3\u00a0%']);
  expect(
    typed(
      'Rule 3 of plan v2.1 on 2016-03-07 10:31:12 UTC, three holds, 2 runs, channel dp_12, see 4 of file7.csv',
    ),
  ).toEqual([]);
});

test('a number that is cut by marks is whole, one beside a value is found, code is passed over', () => {
  const bold: DocNode = { type: 'text', text: '075 m/s', marks: [{ type: 'bold' }] };
  const value: DocNode = { type: 'figureValue', attrs: {} };
  expect(typedNumbers(line(text('at 0.'), bold, value, text(' for 4 s')), new Set())).toEqual([
    '0.075 m/s',
    '4 s',
  ]);
  expect(typedNumbers({ type: 'codeBlock', content: [text('0.5 m')] }, new Set())).toEqual([]);
});

test('a value that reads longer than a draft keeps is placed all the same', () => {
  // Each of these marks is written out as eight characters, so that 300 of them are 2400.
  const { attrs } = valueNode('\u202e'.repeat(300));
  const run = resolveFigureValue(attrs, openContext(sampleMaterial));
  expect(run.kind === 'text' && run.text.length).toBeGreaterThan(LONGEST_PLACED);
  expect(valueMark(run).length).toBeLessThanOrEqual(LONGEST_PLACED);
});

test('the list names typed numbers with their section', () => {
  const doc = draftOf(sampleMaterial);
  const content = [...(doc.content ?? []), line(text('We saw 0.08 m/s.'))];
  expect(messages({ ...doc, content }, sampleMaterial)).toContain(
    'A number typed by hand under “Caution”, no value behind: 0.08 m/s.',
  );
});

test('values and figures that show something else than when they were placed are named, others not', () => {
  const figure = {
    type: 'approachFigure',
    attrs: { id: 'figure-1', picture: 'rate', caption: 'Rate', alt: '' },
  };
  const trace = {
    type: 'traceFigure',
    attrs: { id: 'figure-2', channels: ['range'], fromS: 0, toS: 60, caption: 'Range', alt: '' },
  };
  const content = [
    heading('head-1', 1, 'Contact'),
    {
      ...line(text('It closed at '), valueNode('contact.closing_rate_mps')),
      attrs: { id: 'line-1' },
    },
    figure,
    trace,
  ];
  const placed = withPlaced({ type: 'doc', content }, openContext(sampleMaterial), BUILT_IN_BLOCKS);
  const moved = (material: DebriefMaterial, doc = placed) =>
    messages(doc, material).filter((each) => /placed/.test(each));
  expect(moved(sampleMaterial)).toEqual([]);
  // A caption is its author's, and what was never noted cannot have changed.
  const retitled = (placed.content ?? []).map((block) =>
    block.type === 'approachFigure' ? { ...block, attrs: { ...block.attrs, caption: 'x' } } : block,
  );
  expect(moved(sampleMaterial, { type: 'doc', content: retitled })).toEqual([]);

  const { contact } = sampleReconstruction;
  const rate = contact?.conditions.closing_rate;
  if (contact == null || rate === undefined) throw new Error('the sample has a contact');
  const conditions = { ...contact.conditions, closing_rate: { ...rate, value: 0.0851 } };
  const derived = {
    ...sampleDerived,
    columns: sampleDerived.columns.map((column) =>
      column.name === 'closing_rate'
        ? { ...column, values: column.values.map((v) => 2 * v) }
        : column,
    ),
  };
  const other = makeMaterial({ ...changed({ contact: { ...contact, conditions } }), derived });
  expect(moved(other)).toEqual([
    expect.stringMatching(
      /^A value under “Contact” has changed since it was placed: it was 0\.0741.*, it is 0\.0851/,
    ),
    'Approach figure under “Contact” shows something else than when it was placed.',
  ]);
  expect(moved(other, { type: 'doc', content })).toEqual([]);
});
