import { expect, test } from 'vitest';
import type { DocNode } from '@/lib/core/debrief/document';
import { type LiveViews, liveKey } from '@/lib/view/debrief/live-nodes';
import { publishFailureText, serverFailure } from '@/lib/view/debrief/server-failure';
import {
  changedParts,
  conflictsOf,
  rebase,
  settle,
  valuesInChanges,
} from '@/lib/view/debrief/settle';

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
  expect(conflictsOf(base, theirs, mine)).toEqual([
    { id: 'aaaa', section: '', mine: 'mine', theirs: 'theirs' },
  ]);
  expect(words(settle(base, theirs, mine, { aaaa: 'mine' }))).toEqual(['mine', 'also mine']);
  expect(words(settle(base, theirs, mine, { aaaa: 'theirs' }))).toEqual(['theirs', 'also mine']);
});

test('a block that they took out and I changed comes back where I choose it', () => {
  const theirs = doc(block('bbbb', '2'));
  const mine = doc(block('aaaa', 'mine'), block('bbbb', '2'));
  expect(conflictsOf(base, theirs, mine)).toEqual([
    { id: 'aaaa', section: '', mine: 'mine', theirs: null },
  ]);
  expect(words(settle(base, theirs, mine, { aaaa: 'mine' }))).toEqual(['2', 'mine']);
  expect(words(settle(base, theirs, mine, { aaaa: 'theirs' }))).toEqual(['2']);
});

test('what was typed while a save was under way is kept, and so is what it brought back', () => {
  const sent = doc(block('aaaa', 'sent'), block('bbbb', '2'));
  const saved = doc(block('aaaa', 'sent'), block('bbbb', 'somebody'));
  const now = doc(block('aaaa', 'sent and more'), block('bbbb', '2'));
  expect(words(rebase(sent, saved, now))).toEqual(['sent and more', 'somebody']);
});

const value: DocNode = { type: 'figureValue', attrs: { key: 'contact.closing_rate_mps' } };
const sentence = (id: string, words: string): DocNode => ({
  type: 'paragraph',
  attrs: { id },
  content: [{ type: 'text', text: words }, value, { type: 'text', text: '.' }],
});
const views: LiveViews = {
  [liveKey('figureValue', value.attrs ?? {})]: {
    kind: 'value',
    mark: '0.0741 m/s',
    run: { kind: 'text', text: '0.0741 m/s', marks: [], href: null },
  },
};

test('both texts of a conflict are shown with their live values, under their section', () => {
  const heading: DocNode = { ...block('hhhh', 'Summary'), type: 'heading' };
  const conflicts = conflictsOf(
    doc(heading, sentence('aaaa', 'Closing at ')),
    doc(heading, sentence('aaaa', 'It closed at ')),
    doc(heading, sentence('aaaa', 'We closed at ')),
    views,
  );
  expect(conflicts).toEqual([
    {
      id: 'aaaa',
      section: 'Summary',
      mine: 'We closed at 0.0741 m/s.',
      theirs: 'It closed at 0.0741 m/s.',
    },
  ]);
});

test('parts that differ between two texts are listed with what was and what is', () => {
  const before = doc(block('aaaa', '1'), sentence('bbbb', 'At '), block('cccc', 'gone'));
  const after = doc(block('aaaa', '1'), sentence('bbbb', 'Now at '), block('dddd', 'new'));
  expect(changedParts(before, after, views)).toEqual([
    { id: 'bbbb', section: '', before: 'At 0.0741 m/s.', after: 'Now at 0.0741 m/s.' },
    { id: 'dddd', section: '', before: null, after: 'new' },
    { id: 'cccc', section: '', before: 'gone', after: null },
  ]);
  expect(valuesInChanges(before, after)).toEqual([value, value]);
  expect(valuesInChanges(before, before)).toEqual([]);
});

// Source: WHATWG Fetch standard, "fetch method": a network error rejects with a TypeError.
test('a server that answered with a fault is not said to be out of reach', () => {
  expect(serverFailure(new TypeError('Failed to fetch'))).toBe('not reached');
  const answered = serverFailure(new Error('An unexpected response was received.'));
  expect(publishFailureText(answered)).not.toContain('could not be reached');
});

test('taking live values as they are now is no change of words, and is not lost beside one', () => {
  const placed = (words: string, mark: string): DocNode => ({
    ...sentence('aaaa', words),
    content: [{ ...value, attrs: { ...value.attrs, placed: mark } }],
  });
  const base = doc(placed('', '0.08'), block('bbbb', 'before'));
  const mine = doc(placed('', '0.0741 m/s'), block('bbbb', 'before'));
  const theirs = doc(placed('', '0.08'), block('bbbb', 'after'));
  expect(conflictsOf(base, theirs, mine)).toEqual([]);
  const both = doc(placed('', '0.0741 m/s'), block('bbbb', 'after'));
  expect(settle(base, theirs, mine, {})).toEqual(both);
  expect(settle(base, mine, theirs, {})).toEqual(both);
  expect(changedParts(base, mine, views)).toEqual([]);
});
