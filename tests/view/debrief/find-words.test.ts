import { expect, test } from 'vitest';
import { documentSchema } from '@/lib/core/debrief/document-schema';
import { BUILT_IN_BLOCKS } from '@/lib/core/debrief/nodes/built-in-blocks';
import { findWords, nextFound, type Sought } from '@/lib/view/debrief/find-words';

const text = (words: string, ...marks: readonly string[]) => ({
  type: 'text',
  text: words,
  marks: marks.map((type) => ({ type })),
});
const value = {
  type: 'figureValue',
  attrs: { key: 'contact.time_s', form: 'time', uncertainty: 'with', digits: null },
};
const doc = documentSchema(BUILT_IN_BLOCKS).nodeFromJSON({
  type: 'doc',
  content: [
    { type: 'heading', attrs: { id: 'head-1', level: 1 }, content: [text('Hold and hold')] },
    {
      type: 'paragraph',
      attrs: { id: 'para-1' },
      content: [text('The ho'), text('ld was ', 'bold'), value, text('hold\u0130ng hold')],
    },
    { type: 'contactTable', attrs: { id: 'live-1', caption: 'Hold' } },
    {
      type: 'bulletList',
      attrs: { id: 'list-1' },
      content: [
        { type: 'listItem', content: [{ type: 'paragraph', attrs: {}, content: [text('aaa')] }] },
      ],
    },
  ],
});
const found = (words: string, kind: Sought['case'] = 'alike') =>
  findWords(doc, { words, case: kind }).map(({ from, to }) => doc.textBetween(from, to));

test('words are found across marks and cases, not across values, and never overlap', () => {
  expect(found('hold')).toEqual(['Hold', 'hold', 'hold', 'hold', 'hold']);
  expect(found('hold', 'exact')).toEqual(['hold', 'hold', 'hold', 'hold']);
  expect(found('was hold')).toEqual([]);
  expect(found('ng hold')).toEqual(['ng hold']);
  expect(found('aa')).toEqual(['aa']);
  expect(found('')).toEqual([]);
  expect(found('.*')).toEqual([]);
});

test('after the last the first comes next', () => {
  const places = findWords(doc, { words: 'hold', case: 'alike' });
  expect([nextFound(places, 0), nextFound(places, 2), nextFound(places, 10_000)]).toEqual([
    0, 1, 0,
  ]);
  expect(nextFound([], 0)).toBe(-1);
});
