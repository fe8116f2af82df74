import { expect, test } from 'vitest';
import { naturalOrder } from '@/lib/core/session/natural-order';

test('names are counted, not spelled', () => {
  const names = ['run-10', 'run-9', 'run-9b', 'a', 'run-010', 'run-2/7', 'run-2/07', '3'];
  expect([...names].sort(naturalOrder)).toEqual([
    '3',
    'a',
    'run-2/07',
    'run-2/7',
    'run-9',
    'run-9b',
    'run-010',
    'run-10',
  ]);
});
