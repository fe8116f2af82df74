import { expect, test } from 'vitest';
import { checkDocument } from '@/lib/core/debrief/check-document';
import { compareRecords } from '@/lib/core/debrief/compare-records';
import type { DocNode } from '@/lib/core/debrief/document';
import { DOCUMENT_SCHEMA } from '@/lib/core/debrief/document';
import { documentSchema } from '@/lib/core/debrief/document-schema';
import { renderDocx } from '@/lib/core/debrief/docx/render-docx';
import { renderHtml } from '@/lib/core/debrief/html/render-html';
import { loadDocument } from '@/lib/core/debrief/load-document';
import { renderMarkdown } from '@/lib/core/debrief/markdown/render-markdown';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { makeRecord, sealRecord } from '@/lib/core/debrief/record';
import { resolveDocument } from '@/lib/core/debrief/resolve';
import { draftTargets } from '@/lib/view/debrief/draft-targets';
import { liveNodesOf, liveViews } from '@/lib/view/debrief/live-nodes';
import { sampleMaterial } from '../../support/sample-material';

const heading = (id: string, words: string): DocNode => ({
  type: 'heading',
  attrs: { id, level: 1 },
  content: [{ type: 'text', text: words }],
});
const table = (id: string, type: string): DocNode => ({ type, attrs: { id, caption: type } });
const refers: DocNode = {
  type: 'paragraph',
  attrs: { id: 'para-1' },
  content: [
    { type: 'text', text: 'See ' },
    { type: 'blockReference', attrs: { target: 'contact-1' } },
    { type: 'text', text: ' and ' },
    { type: 'blockReference', attrs: { target: 'head-2' } },
  ],
};
const parts = [heading('head-1', 'One'), table('steps-1', 'stepTable'), heading('head-2', 'Two')];
const contact = table('contact-1', 'contactTable');
const doc = (...content: readonly DocNode[]): DocNode => ({ type: 'doc', content });
const first = doc(...parts, refers, contact);

const recordOf = (given: DocNode) =>
  makeRecord(resolveDocument(given, sampleMaterial, BUILT_IN_BLOCKS), sampleMaterial, {
    number: 7,
    revision: 1,
    title: 'Arrival',
    publishedAtIso: '2016-03-10T08:00:00.000Z',
    publishedBy: 'Somebody',
    previousSha256: null,
  });
const wordsOf = (given: DocNode) => {
  const block = recordOf(given).blocks.find(({ id }) => id === 'para-1');
  const runs = block?.kind === 'paragraph' ? block.runs : [];
  return runs.map((run) => (run.kind === 'break' ? '\n' : run.text)).join('');
};
const stops = (given: DocNode) =>
  checkDocument(given, sampleMaterial, BUILT_IN_BLOCKS).filter(
    ({ gravity }) => gravity === 'stops',
  );

test('a reference reads as its target is called, and follows when parts change places', () => {
  expect(wordsOf(first)).toBe('See Table 2 and Section 2');
  expect(wordsOf(doc(heading('head-2', 'Two'), contact, ...parts.slice(0, 2), refers))).toBe(
    'See Table 1 and Section 1',
  );
  const stored = { schema: DOCUMENT_SCHEMA, body: first };
  expect(loadDocument(stored, documentSchema(BUILT_IN_BLOCKS)).issues).toEqual([]);
  const bad = { ...refers, content: [{ type: 'blockReference', attrs: { target: '"><script>' } }] };
  const refused = loadDocument({ ...stored, body: doc(bad) }, documentSchema(BUILT_IN_BLOCKS));
  expect(refused.issues[0]?.message).toContain('blockReference.target');
});

test('a reference to what was removed stops publishing', () => {
  expect(stops(first)).toEqual([]);
  expect(stops(doc(...parts, refers))).toEqual([
    { gravity: 'stops', blockId: 'para-1', message: expect.stringContaining('no longer here') },
  ]);
});

test('the editor counts as publishing does, and each format leads to the target', () => {
  const views = liveViews(liveNodesOf(first), sampleMaterial, 'session-1');
  expect(draftTargets(first, views)).toEqual([
    { id: 'head-1', label: 'Section 1', title: 'One' },
    { id: 'steps-1', label: 'Table 1', title: 'stepTable' },
    { id: 'head-2', label: 'Section 2', title: 'Two' },
    { id: 'contact-1', label: 'Table 2', title: 'contactTable' },
  ]);
  const sealed = sealRecord(recordOf(first));
  const html = renderHtml(sealed, []);
  expect(html).toContain('<a href="#contact-1" rel="noopener noreferrer nofollow">Table 2</a>');
  expect(html).toContain('id="contact-1"');
  // ECMA-376-1:2016, 17.16.5.51: REF gives the text of a bookmark.
  const body = String(renderDocx(sealed).get('word/document.xml'));
  expect(body).toContain('w:name="s_contact_1"');
  expect(body).toMatch(/<w:fldSimple w:instr=" REF s_contact_1 \\h ">.*?Table 2/);
  expect(body).toMatch(/<w:hyperlink w:anchor="s_head_2">.*?Section 2/);
  // CommonMark 0.31.2, 6.3 (links) and 6.6 (raw HTML): the place is an element with an id.
  const text = renderMarkdown(sealed).get('debrief.md');
  expect(text).toContain('See [Table 2](#contact-1) and [Section 2](#head-2)');
  expect(text).toContain('\n## <a id="head-2"></a>2 Two\n');
  expect(text).toContain('\n<a id="contact-1"></a>**Table 2.** contactTable\n');
  expect(text).not.toContain('id="steps-1"');
});

test('between revisions a reference is told by its words', () => {
  const moved = doc(heading('head-0', 'Zero'), ...parts, refers, contact);
  const changes = compareRecords(recordOf(first), recordOf(moved)).flatMap((each) => each.changes);
  expect(JSON.stringify(changes)).not.toContain('#contact-1');
  expect(JSON.stringify(changes)).toContain('Section 3');
});
