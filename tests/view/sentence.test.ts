import { expect, test } from 'vitest';
import { gluedParts } from '@/lib/view/sentence';

test('a mark stays with the figure or link that it closes, and the text is the same', () => {
  const rules = { text: 'two were broken', href: '/rules' };
  const parts = gluedParts(['Of ten ', rules, '), and ', rules, '.', ' (so far).']);
  expect(parts.map(({ marks }) => marks)).toEqual(['', '),', '', '.', '', '']);
  const text = parts.map(({ part, marks }) =>
    typeof part === 'string' ? part : `${part.text}${marks}`,
  );
  expect(text.join('')).toBe('Of ten two were broken), and two were broken. (so far).');
});
