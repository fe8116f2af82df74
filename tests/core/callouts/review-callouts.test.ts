import { expect, test } from 'vitest';
import { findEventCalls } from '@/lib/core/callouts/event-calls';
import { reviewCallouts } from '@/lib/core/callouts/review-callouts';

const entry = (line: number, text: string) => ({
  sourceS: line,
  sourceEndS: null,
  event: null,
  speaker: null,
  text,
  line,
});
const ENTRIES = [
  entry(3, 'Coming up on 100 metres.'),
  entry(7, 'Range 80 metres, closing 0.2 metres per second.'),
];
const none = { by: null, reason: null };

test('without corrections every value knows its line and its place on it', () => {
  expect(reviewCallouts(ENTRIES, [])).toMatchObject([
    { line: 3, nth: 1, doubtful: true, review: null },
    { line: 7, nth: 1, kind: 'range', doubtful: false, review: null },
    { line: 7, nth: 2, kind: 'rate', doubtful: false, review: null },
  ]);
});

test('a person accepts, corrects and rejects', () => {
  const reviewed = reviewCallouts(ENTRIES, [
    { kind: 'accept', source: 'a', line: 3, nth: 1, ...none },
    { kind: 'correct', source: 'a', line: 7, nth: 1, quantity: 'range', saidSi: 90, ...none },
    { kind: 'reject', source: 'a', line: 7, nth: 2, by: 'R. Okafor', reason: 'of the axis' },
  ]);
  expect(reviewed).toMatchObject([
    { review: 'accepted', doubtful: false, reason: null },
    { review: 'corrected', valueSi: 90, doubtful: false },
    { review: 'rejected', doubtful: true, reason: 'rejected by R. Okafor: of the axis' },
  ]);
});

test('of two corrections of one value the later counts, and one of no value does nothing', () => {
  const at = { source: 'a', line: 3, nth: 1, ...none };
  const reviewed = reviewCallouts(ENTRIES, [
    { kind: 'reject', ...at },
    { kind: 'accept', ...at },
    { kind: 'reject', ...at, line: 99 },
  ]);
  expect(reviewed.map(({ review }) => review)).toEqual(['accepted', null, null]);
});

test.each([
  ['Contact.', 'contact'],
  ['And contact!', 'contact'],
  ['We have soft capture.', 'soft-capture'],
  ['Capture confirmed.', 'soft-capture'],
  ['Hard capture, twelve hooks closed.', null],
  ['Hard capture.', 'hard-capture'],
  ['Contact in two minutes.', null],
  ['Do we have contact?', null],
  ['No contact.', null],
  ['We lost contact.', null],
  ['Ready for capture.', null],
])('%j calls %s', (text, event) => {
  expect(findEventCalls([entry(1, text)]).map((call) => call.event)).toEqual(
    event === null ? [] : [event],
  );
});

test('the first call of an event counts, later ones may be echoes', () => {
  expect(findEventCalls([entry(5, 'Contact.'), entry(9, 'Contact confirmed.')])).toMatchObject([
    { event: 'contact', line: 5 },
  ]);
});
