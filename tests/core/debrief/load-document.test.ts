import { describe, expect, test } from 'vitest';
import type { DocMark } from '@/lib/core/debrief/document';
import { documentSchema } from '@/lib/core/debrief/document-schema';
import { loadDocument } from '@/lib/core/debrief/load-document';
import { mergeDocuments } from '@/lib/core/debrief/merge-documents';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { isDraftNode } from '@/lib/server/publish/stored-document';

const schema = documentSchema(BUILT_IN_BLOCKS);
const text = (words: string, marks: readonly DocMark[] = []) => ({
  type: 'text',
  text: words,
  marks,
});
const paragraph = (id: string, words: string) => ({
  type: 'paragraph',
  attrs: { id },
  content: [text(words)],
});

function faultOf(...content: readonly unknown[]): string {
  const loaded = loadDocument({ schema: 1, body: { type: 'doc', content } }, schema);
  expect(loaded.value === null).toBe(loaded.issues.length > 0);
  return loaded.issues[0]?.message ?? '';
}

const link = (href: unknown) => ({
  type: 'paragraph',
  attrs: { id: 'block-1' },
  content: [text('here', [{ type: 'link', attrs: { href } }])],
});
const cell = (attrs: unknown) => ({
  type: 'table',
  attrs: { id: 'block-1' },
  content: [
    { type: 'tableRow', content: [{ type: 'tableCell', attrs, content: [{ type: 'paragraph' }] }] },
  ],
});
const nested = (depth: number): unknown =>
  depth === 0
    ? { type: 'paragraph' }
    : { type: 'blockquote', attrs: { id: 'block-1' }, content: [nested(depth - 1)] };

describe('hostile JSON is refused with what is wrong', () => {
  test.each([
    ['a script link', link('javascript:alert(1)'), /a link that leads neither/],
    ['a script link with a line break', link('java\nscript:alert(1)'), /a link/],
    ['a data link', link('data:text/html,<script>'), /a link/],
    ['a link that is no text', link({ a: 1 }), /a link/],
    [
      'a heading level of markup',
      { type: 'heading', attrs: { id: 'block-1', level: '1><img>' } },
      /heading whose level/,
    ],
    [
      'a heading of level 7',
      { type: 'heading', attrs: { id: 'block-1', level: 7 } },
      /heading whose level/,
    ],
    ['a span of text', cell({ colspan: '1" onload="x' }), /span/],
    ['a span of a million', cell({ rowspan: 1_000_000 }), /span/],
    ['a width of text', cell({ colwidth: ['12" x'] }), /column widths/],
    [
      'a code language with quotes',
      { type: 'codeBlock', attrs: { id: 'block-1', language: '"><b>' } },
      /language/,
    ],
    ['an unknown node', { type: 'script', attrs: { id: 'block-1' } }, /script/],
    [
      'an unknown mark',
      { type: 'paragraph', attrs: { id: 'block-1' }, content: [text('x', [{ type: 'blink' }])] },
      /blink/,
    ],
    [
      'an unknown key',
      { type: 'paragraph', attrs: { id: 'block-1' }, onload: 1 },
      /unknown key "onload"/,
    ],
    [
      'a paragraph in a paragraph',
      { type: 'paragraph', attrs: { id: 'block-1' }, content: [{ type: 'paragraph' }] },
      /content/,
    ],
    ['blocks too deep', nested(40), /more than 24 deep/],
    [
      'a live block without attributes',
      { type: 'traceFigure', attrs: { id: 'block-1' } },
      /traceFigure/,
    ],
    [
      'a live block with a wrong one',
      { type: 'stepTable', attrs: { id: 'block-1', caption: 7 } },
      /stepTable\.caption/,
    ],
    [
      'an inline value of an unknown form',
      {
        type: 'paragraph',
        attrs: { id: 'block-1' },
        content: [
          {
            type: 'figureValue',
            attrs: { key: 'x', form: 'html', uncertainty: 'with', digits: null },
          },
        ],
      },
      /figureValue\.form/,
    ],
    ['no id', { type: 'paragraph' }, /a block without id/],
    ['an id of markup', { type: 'paragraph', attrs: { id: '"><script>' } }, /id: not a block id/],
    ['null in place of a node', null, /not a node/],
  ])('%s', (_name, node, message) => {
    expect(faultOf(node)).toMatch(message);
  });

  test('the same id twice', () => {
    expect(faultOf(paragraph('block-1', 'a'), paragraph('block-1', 'b'))).toMatch(
      /"block-1" twice/,
    );
  });

  test('more nodes than a document may have', () => {
    const many = Array.from({ length: 50_001 }, (_, index) => paragraph(`block-${index}`, ''));
    expect(faultOf(...many)).toMatch(/more than 50000 nodes/);
  });

  test('a prototype key does nothing and is refused', () => {
    const body = JSON.parse(
      '{"type":"doc","content":[{"type":"paragraph","attrs":{"id":"block-1"},"__proto__":{"a":1}}]}',
    );
    expect(loadDocument({ schema: 1, body }, schema).issues[0]?.message).toMatch(
      /unknown key "__proto__"/,
    );
    expect(Reflect.get({}, 'a')).toBeUndefined();
  });

  test.each([0, 2, 1.5, Number.NaN])('schema number %s', (number) => {
    const loaded = loadDocument({ schema: number, body: { type: 'doc', content: [] } }, schema);
    expect(loaded.issues[0]?.code).toBe('document-schema');
  });

  test.each([null, 1, 'doc', [], {}, { type: 'paragraph' }])('%j is no document', (body) => {
    expect(loadDocument({ schema: 1, body }, schema).value).toBeNull();
  });
});

test('unknown attributes are dropped, known ones stay', () => {
  const body = {
    type: 'doc',
    content: [{ ...paragraph('block-1', 'x'), attrs: { id: 'block-1', onload: 'x' } }],
  };
  const loaded = loadDocument({ schema: 1, body }, schema);
  expect(loaded.value?.content?.[0]?.attrs).toEqual({ id: 'block-1' });
});

describe('merging by block', () => {
  const doc = (...content: ReturnType<typeof paragraph>[]) => ({ type: 'doc', content });
  const base = doc(paragraph('aaaa', '1'), paragraph('bbbb', '2'), paragraph('cccc', '3'));
  const words = (merged: ReturnType<typeof mergeDocuments>) =>
    (merged.doc.content ?? []).map((block) => block.content?.[0]?.text);

  test('changes of different blocks are both kept', () => {
    const theirs = doc(paragraph('aaaa', 'theirs'), paragraph('bbbb', '2'), paragraph('cccc', '3'));
    const mine = doc(paragraph('aaaa', '1'), paragraph('bbbb', '2'), paragraph('cccc', 'mine'));
    const merged = mergeDocuments(base, theirs, mine);
    expect(merged.conflicts).toEqual([]);
    expect(words(merged)).toEqual(['theirs', '2', 'mine']);
  });

  test('a new block stays behind its neighbour, and both sides may add', () => {
    const theirs = doc(
      paragraph('aaaa', '1'),
      paragraph('tttt', 't'),
      paragraph('bbbb', '2'),
      paragraph('cccc', '3'),
    );
    const mine = doc(
      paragraph('aaaa', '1'),
      paragraph('bbbb', '2'),
      paragraph('mmmm', 'm'),
      paragraph('cccc', '3'),
    );
    expect(words(mergeDocuments(base, theirs, mine))).toEqual(['1', 't', '2', 'm', '3']);
  });

  test('a block taken out by one and untouched by the other is gone', () => {
    const mine = doc(paragraph('aaaa', '1'), paragraph('cccc', '3'));
    const theirs = doc(paragraph('aaaa', 'theirs'), paragraph('bbbb', '2'), paragraph('cccc', '3'));
    expect(words(mergeDocuments(base, theirs, mine))).toEqual(['theirs', '3']);
  });

  test('both changed the same block: a conflict, not a guess', () => {
    const theirs = doc(paragraph('aaaa', 'theirs'), ...base.content.slice(1));
    const mine = doc(paragraph('aaaa', 'mine'), ...base.content.slice(1));
    expect(mergeDocuments(base, theirs, mine).conflicts).toEqual(['aaaa']);
  });

  test('one took out what the other changed: a conflict, either way round', () => {
    const without = doc(...base.content.slice(1));
    const changed = doc(paragraph('aaaa', 'new'), ...base.content.slice(1));
    expect(mergeDocuments(base, without, changed).conflicts).toEqual(['aaaa']);
    expect(mergeDocuments(base, changed, without).conflicts).toEqual(['aaaa']);
  });

  test('the same change on both sides is no conflict', () => {
    const changed = doc(paragraph('aaaa', 'new'), ...base.content.slice(1));
    expect(mergeDocuments(base, changed, structuredClone(changed)).conflicts).toEqual([]);
  });
});

test('a value and a block are each something that a draft may hold, anything else is not', () => {
  const attrs = { key: 'counts.rules', form: 'word', uncertainty: 'with', digits: null };
  expect(isDraftNode({ type: 'figureValue', attrs })).toBe(true);
  expect(isDraftNode({ type: 'phaseTable', attrs: { id: 'block-1', caption: 'Runs' } })).toBe(true);
  expect(isDraftNode({ type: 'figureValue', attrs: { ...attrs, form: 'loud' } })).toBe(false);
  expect(isDraftNode({ type: 'script' })).toBe(false);
  expect(isDraftNode(null)).toBe(false);
});
