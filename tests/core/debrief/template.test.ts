import { expect, test } from 'vitest';
import { checkDocument } from '@/lib/core/debrief/check-document';
import type { DebriefMaterial } from '@/lib/core/debrief/debrief-material';
import { type DocNode, nodeText } from '@/lib/core/debrief/document';
import { documentSchema } from '@/lib/core/debrief/document-schema';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { imprintRows } from '@/lib/core/debrief/imprint-rows';
import { loadDocument } from '@/lib/core/debrief/load-document';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { makeRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { readTemplateFile } from '@/lib/core/debrief/template/read-template-file';
import { compareView } from '@/lib/view/plans/compare-view';
import {
  draftView,
  headForm,
  itemForm,
  newItems,
  STARTING_TEXTS,
  toldChanges,
} from '@/lib/view/plans/draft-view';
import { countingIds, sampleMaterial } from '../../support/sample-material';

const TEXT = `# of the approach team
id: approach-team
title: Approach team
sections:
  - id: contact
    heading: First touch
    text: |
      We hold every contact against the docking limits.

      The chair reads them out.
    must_hold: [contact_table]
  - id: attendance
    heading: Who was there
    must_hold: [words]
  - id: rules
    must_hold: [rule_table, exceedance_table]
`;
const read = (text: string) => readTemplateFile(text, 'template.yaml', BUILT_IN_BLOCKS);
const form = read(TEXT).value;
if (form === null) throw new Error('the template reads');
const material: DebriefMaterial = {
  ...sampleMaterial,
  template: { title: 'Approach team', number: 3, sha256: 'f6'.repeat(32), form },
};
const draft = draftDebrief(material, BUILT_IN_BLOCKS, countingIds(), form);
const blocks = draft.content ?? [];
const stops = (doc: DocNode, given = material) =>
  checkDocument(doc, given, BUILT_IN_BLOCKS).flatMap(({ gravity, message }) =>
    message.includes('template') ? [`${gravity}: ${message}`] : [],
  );

test('a draft has the sections of its template in their order, with its headings and words', () => {
  const headings = blocks.filter(({ type }) => type === 'heading').map(nodeText);
  expect(headings).toEqual(['First touch', 'Who was there', 'Rules and margins']);
  expect(blocks.slice(1, 3).map(nodeText)).toEqual([
    'We hold every contact against the docking limits.',
    'The chair reads them out.',
  ]);
  expect(blocks.map(({ type }) => type)).toContain('contactTable');
  expect(blocks.map(({ type }) => type)).not.toContain('sourceTable');
  const own = draftDebrief(material, BUILT_IN_BLOCKS, countingIds());
  expect(own.content?.filter(({ type }) => type === 'heading')).toHaveLength(10);
});

test('what a template wants and a draft lacks stops publishing, what is empty is pointed at', () => {
  expect(stops(draft)).toEqual([
    'stops: The template wants words of your own under “Who was there”.',
  ]);
  expect(stops(draft, sampleMaterial)).toEqual([]);
  const at = blocks.findIndex((block) => nodeText(block) === 'Who was there');
  const words: DocNode = {
    type: 'paragraph',
    content: [{ type: 'text', text: 'All four of us.' }],
  };
  const filled = [...blocks.slice(0, at + 1), words, ...blocks.slice(at + 1)];
  const doc = (content: readonly DocNode[]): DocNode => ({ type: 'doc', content });
  expect(stops(doc(filled))).toEqual([]);
  const without = filled.filter(({ type }) => type !== 'contactTable');
  expect(stops(doc(without))).toEqual([
    'stops: Contact table is missing under “First touch”; the template wants it there: insert it.',
  ]);
  const gone = filled.filter((block) => nodeText(block) !== 'Who was there');
  expect(stops(doc(gone))).toContain(
    'stops: The template wants a section “Who was there”, and no heading is it: write a heading of the first level in these words.',
  );
  const none = { ...material.reconstruction, exceedances: [] };
  expect(stops(doc(filled), { ...material, reconstruction: none })).toEqual([
    'look: Exceedance table under “Rules and margins”, which the template wants, is empty.',
  ]);
});

test('the record names the template and its version', () => {
  const sealed = sealRecord(
    makeRecord(resolveDocument(draft, material, BUILT_IN_BLOCKS), material, {
      number: 1,
      revision: 1,
      title: 'x',
      publishedAtIso: '2016-03-10T08:00:00.000Z',
      publishedBy: 'Somebody',
      previousSha256: null,
    }),
  );
  expect(sealed.record.template).toEqual({
    title: 'Approach team',
    number: 3,
    sha256: 'f6'.repeat(32),
  });
  expect(imprintRows(sealed)).toContainEqual(['Template', expect.stringContaining('version 3')]);
});

test('what is wrong in a template is told by its place', () => {
  const said = (text: string) =>
    read(text).issues.map(({ line, keyPath, message }) => `${line} ${keyPath}: ${message}`);
  expect(said(TEXT)).toEqual([]);
  expect(said(TEXT.replace('rule_table', 'rules_table'))[0]).toMatch(
    /^16 sections\[2\]\.must_hold\[0\]: no block is called "rules_table"/,
  );
  expect(said(TEXT.replace('id: rules', 'id: contact')).join()).toContain('is taken already');
  expect(said(TEXT.replace('Who was there', '')).join()).toMatch(/sections\[1\]\.heading/);
  const named = read(TEXT.replace('    heading: Who was there\n', '')).value;
  expect(named?.sections[1]?.heading).toBe('Attendance');
  expect(read('sections: [').value).toBeNull();
  const hostile = TEXT.replace('The chair reads', '<script> {{7*7}} reads');
  expect(read(hostile).value?.sections[0]?.text[1]).toBe('<script> {{7*7}} reads them out.');
});

test('a template is edited by form: its sections, fields and additions come from its schema', () => {
  const start = draftView('template', STARTING_TEXTS.template);
  expect([start.isValid, start.items.length]).toEqual([true, 12]);
  const view = draftView('template', TEXT);
  expect(view.items.map(({ name }) => name)).toEqual(['Contact', 'Attendance', 'Rules']);
  expect(headForm('template', view)).toMatchObject({ control: 'group' });
  expect(itemForm('template', view, 0)).toMatchObject({ control: 'variant', chosen: 0 });
  expect(itemForm('template', view, 1)).toMatchObject({ control: 'variant', chosen: 1 });
  expect(newItems('template', view).map(({ value }) => value)).toMatchObject([
    { id: 'purpose' },
    { id: 'section-4' },
  ]);
  const changes = compareView('template', TEXT, TEXT.replace('First touch', 'Contact'));
  expect(changes.summary).toContain('2 sections the same');
});

const heads = (change: (block: DocNode) => DocNode): DocNode => ({
  type: 'doc',
  content: blocks.map((block) => (block.type === 'heading' ? change(block) : block)),
});

test('a section stays itself under another heading and at another level; typed again its words tell', () => {
  const named = (words: string) => [{ type: 'text', text: words }];
  const renamed = heads((block) => ({
    ...block,
    attrs: { ...block.attrs, level: 2 },
    content: named(`Our ${nodeText(block)}`),
  }));
  const lead = { type: 'heading', attrs: { id: 'lead-1', level: 1 }, content: named('All') };
  expect(stops({ type: 'doc', content: [lead, ...(renamed.content ?? [])] })).toEqual([
    'stops: The template wants words of your own under “Our Who was there”.',
  ]);
  const typed = heads(({ attrs, ...block }) => ({
    ...block,
    attrs: { id: attrs?.id, level: 1 },
    content: named(` ${nodeText(block).replace(' ', '  ')}`),
  }));
  expect(stops(typed)).toEqual([
    'stops: The template wants words of your own under “Who was there”.',
  ]);
  expect(
    loadDocument({ schema: 1, body: renamed }, documentSchema(BUILT_IN_BLOCKS)).issues,
  ).toEqual([]);
});

test('a block that the session has nothing for is pointed at and stops nothing', () => {
  const wants = read(TEXT.replace('[contact_table]', '[commanded_table, approach_figure]')).value;
  if (wants === null || material.template === undefined) throw new Error('the template reads');
  const bare = { ...material, template: { ...material.template, form: wants } };
  const said = stops(draft, { ...bare, derived: { tS: new Float64Array(), columns: [] } });
  expect(said[0]).toBe(
    'look: Table of commanded phases, which the template wants under “First touch”, has nothing to show of this session.',
  );
  // Samples are not loaded for what is not in the draft: what draws them can still be put in.
  expect(said[1]).toMatch(/^(look|stops): Approach figure/);
  expect(said[1]?.startsWith('stops')).toBe(material.reconstruction.approach !== null);
});

test('headings that are alike or without words are told where the template is written', () => {
  const said = (text: string) =>
    read(text).issues.map(({ keyPath, message }) => `${keyPath}: ${message}`);
  expect(said(TEXT.replace('Who was there', '" First  touch "'))).toEqual([
    'sections[1].heading: the heading "First touch" is that of the section "contact" already',
  ]);
  expect(said(TEXT.replace('Who was there', '" \u2013 "'))).toEqual([
    'sections[1].heading: the heading of the section "attendance" has no words',
  ]);
});

test('who saves a version is told which required sections it calls otherwise or drops', () => {
  const other = TEXT.replace('First touch', 'Contact').replace('    must_hold: [words]\n', '');
  expect(toldChanges('template', TEXT, other)).toEqual([
    'The section “First touch” (contact) is called “Contact”.',
    'The section “Who was there” (attendance) need hold nothing any more.',
  ]);
  const cut = TEXT.slice(0, TEXT.indexOf('  - id: rules'));
  expect(toldChanges('template', TEXT, cut)).toEqual([
    'The section “Rules and margins” (rules) is gone, with what it had to hold.',
  ]);
  expect(toldChanges('template', TEXT, TEXT.replace('The chair', 'Somebody'))).toEqual([]);
});
