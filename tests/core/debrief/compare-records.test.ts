import { expect, test } from 'vitest';
import { compareRecords } from '@/lib/core/debrief/compare-records';
import { makeMaterial } from '@/lib/core/debrief/debrief-material';
import type { DocNode } from '@/lib/core/debrief/document';
import { draftDebrief } from '@/lib/core/debrief/draft';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { type DebriefRecord, makeRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { countingIds, sampleMaterial } from '../../support/sample-material';

const IMPRINT = {
  number: 1,
  revision: 1,
  previousSha256: null,
  title: 'Arrival',
  publishedAtIso: '2027-04-06T13:05:00.000Z',
  publishedBy: 'Somebody',
};

function recordOf(doc: DocNode, material = sampleMaterial): DebriefRecord {
  return makeRecord(resolveDocument(doc, material, BUILT_IN_BLOCKS), material, IMPRINT);
}

const doc = draftDebrief(sampleMaterial, BUILT_IN_BLOCKS, countingIds());
const before = recordOf(doc);
const paragraph = (id: string, text: string): DocNode => ({
  type: 'paragraph',
  attrs: { id },
  content: [{ type: 'text', text }],
});

test('the same record twice has no changes', () => {
  expect(compareRecords(before, recordOf(doc))).toEqual([]);
});

test('a number that changed is named in each section that shows it, and no word with it', () => {
  const { reconstruction } = sampleMaterial;
  const { contact } = reconstruction;
  const rate = contact?.conditions.closing_rate;
  if (contact === null || rate === undefined) throw new Error('the sample has a closing rate');
  const conditions = { ...contact.conditions, closing_rate: { ...rate, value: 0.09 } };
  const changed = { ...reconstruction, contact: { ...contact, conditions } };
  const material = makeMaterial({ ...sampleMaterial, reconstruction: changed });
  const sections = compareRecords(before, recordOf(doc, material));
  expect(sections.map(({ title }) => title)).toEqual(['Summary', 'Contact and capture']);
  for (const change of sections.flatMap(({ changes }) => changes)) {
    expect(change).toMatchObject({ kind: 'number', what: 'Contact: closing rate' });
    expect(change.before).toMatch(/^0\.0741/);
    expect(change.after).toMatch(/^0\.0900/);
  }
});

test('words, blocks and sections that came, went or changed are told with what they said', () => {
  const content = (doc.content ?? []).map((node, index, all) =>
    node.type === 'paragraph' && all[index - 1]?.content?.[0]?.text === 'Caution'
      ? paragraph(String(node.attrs?.id), 'Said otherwise now.')
      : node,
  );
  const findings = content.findIndex(({ content: words }) => words?.[0]?.text === 'Findings');
  const more = [
    ...content.slice(0, findings),
    paragraph('block-new', 'A block that was not there.'),
    ...content.slice(findings),
    {
      type: 'heading',
      attrs: { id: 'head-new', level: 1 },
      content: [{ type: 'text', text: 'Outlook' }],
    },
    paragraph('words-new', 'What is next.'),
  ];
  const after = recordOf({ type: 'doc', content: more });
  const forth = compareRecords(before, after).map(({ title, standing, changes }) => [
    title,
    standing,
    changes.map(({ kind, after: said }) => [kind, said]),
  ]);
  expect(forth).toEqual([
    ['Contact and capture', 'changed', [['added', 'A block that was not there.']]],
    ['Caution', 'changed', [['words', 'Said otherwise now.']]],
    ['Outlook', 'added', [['added', 'What is next.']]],
  ]);
  const back = compareRecords(after, before).map(({ title, standing }) => [title, standing]);
  expect(back.at(-1)).toEqual(['Outlook', 'removed']);
});

test('a figure of another stretch is said to be drawn anew', () => {
  const content = (doc.content ?? []).map((node) =>
    node.type === 'traceFigure' ? { ...node, attrs: { ...node.attrs, toS: 300 } } : node,
  );
  const changes = compareRecords(before, recordOf({ type: 'doc', content })).flatMap(
    (section) => section.changes,
  );
  expect(changes.map(({ kind }) => kind)).toContain('figure');
});
