import { expect, test } from 'vitest';
import type { DocNode } from '@/lib/core/debrief/document';
import { conflictsOf, rebase, settle } from '@/lib/view/debrief/settle';

const block = (id: string, text: string): DocNode => ({
  type: 'paragraph',
  attrs: { id },
  content: [{ type: 'text', text }],
});
const doc = (...content: DocNode[]): DocNode => ({ type: 'doc', content });
const words = (node: DocNode) => (node.content ?? []).map((each) => each.content?.[0]?.text);
const base = doc(block('aaaa', '1'), block('bbbb', '2'));

test('both texts of a conflict are named, and a choice of either side stands', () => {
  const theirs = doc(block('aaaa', 'theirs'), block('bbbb', '2'));
  const mine = doc(block('aaaa', 'mine'), block('bbbb', 'also mine'));
  expect(conflictsOf(base, theirs, mine)).toEqual([{ id: 'aaaa', mine: 'mine', theirs: 'theirs' }]);
  expect(words(settle(base, theirs, mine, { aaaa: 'mine' }))).toEqual(['mine', 'also mine']);
  expect(words(settle(base, theirs, mine, { aaaa: 'theirs' }))).toEqual(['theirs', 'also mine']);
});

test('a block that they took out and I changed comes back where I choose it', () => {
  const theirs = doc(block('bbbb', '2'));
  const mine = doc(block('aaaa', 'mine'), block('bbbb', '2'));
  expect(conflictsOf(base, theirs, mine)).toEqual([{ id: 'aaaa', mine: 'mine', theirs: null }]);
  expect(words(settle(base, theirs, mine, { aaaa: 'mine' }))).toEqual(['2', 'mine']);
  expect(words(settle(base, theirs, mine, { aaaa: 'theirs' }))).toEqual(['2']);
});

test('what was typed while a save was under way is kept, and so is what it brought back', () => {
  const sent = doc(block('aaaa', 'sent'), block('bbbb', '2'));
  const saved = doc(block('aaaa', 'sent'), block('bbbb', 'somebody'));
  const now = doc(block('aaaa', 'sent and more'), block('bbbb', '2'));
  expect(words(rebase(sent, saved, now))).toEqual(['sent and more', 'somebody']);
});
