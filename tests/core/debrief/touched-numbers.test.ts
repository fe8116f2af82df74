import { expect, test } from 'vitest';
import type { NumberRun, ResolvedBlock, TextRun } from '@/lib/core/debrief/resolved';
import { touchedNumbers } from '@/lib/core/debrief/touched-numbers';
import type { Figure } from '@/lib/core/figure';

function figure(value: number, unit: string): Figure {
  const evidence = { sources: [], channels: [], fromS: null, toS: null };
  return { value, unit, uncertainty: { random: 0.0009, systematic: null }, method: '', evidence };
}

function number(key: string, value: number, text: string): NumberRun {
  const parts = { random95: null, systematic95: null, evidence: 0 };
  return { kind: 'number', text, key, value, unit: 'm/s', ...parts };
}

const words = (text: string): TextRun => ({ kind: 'text', text, marks: [], href: null });

const BLOCKS: readonly ResolvedBlock[] = [
  {
    kind: 'paragraph',
    id: 'p1',
    runs: [
      words('The step was flown once. Contact came at '),
      number('contact.closing_rate_mps', 0.0741, '0.0741\u00a0m/s'),
      words(' after a hold. Nothing else is known.'),
    ],
  },
];

test('a number that moved is named with its sentence and what it would be now', () => {
  const now = new Map([['contact.closing_rate_mps', figure(0.0812, 'm/s')]]);
  expect(touchedNumbers(BLOCKS, now)).toEqual([
    {
      blockId: 'p1',
      key: 'contact.closing_rate_mps',
      sentence: 'Contact came at 0.0741\u00a0m/s after a hold.',
      published: '0.0741\u00a0m/s',
      now: '0.0812\u00a0m/s',
    },
  ]);
});

test('a number that stayed is not named; one that is gone has nothing now', () => {
  const same = new Map([['contact.closing_rate_mps', figure(0.0741, 'm/s')]]);
  expect(touchedNumbers(BLOCKS, same)).toEqual([]);
  expect(touchedNumbers(BLOCKS, new Map())).toMatchObject([{ now: null }]);
});

test('of a number that could not be computed now nothing is said, of another it is', () => {
  expect(touchedNumbers(BLOCKS, new Map(), ['contact.'])).toEqual([]);
  expect(touchedNumbers(BLOCKS, new Map(), ['polls[60].'])).toMatchObject([{ now: null }]);
});

test.each([
  ['123\u00a0m', 'm', 122.888, '123\u00a0m'],
  ['2\u00a0min\u00a04\u00a0s', 's', 124.16, '2\u00a0min\u00a04\u00a0s'],
  ['150.0\u00a0m', 'm', 150.31, '150.3\u00a0m'],
])('a number rounded to %s for its sentence is rounded alike now', (text, unit, value, now) => {
  const run = { ...number('k', 0, text), unit };
  const block: ResolvedBlock = { kind: 'paragraph', id: 'p', runs: [run] };
  expect(touchedNumbers([block], new Map([['k', figure(value, unit)]]))).toMatchObject([{ now }]);
});
