import { expect, test } from 'vitest';
import { formatBytes, plural } from '@/lib/view/format-number';

test('bytes use decimal multiples and step up before four digits', () => {
  expect(formatBytes(640)).toBe('640 B');
  expect(formatBytes(12_400)).toBe('12.4 kB');
  expect(formatBytes(999_600)).toBe('1.00 MB');
  expect(formatBytes(1_830_000_000)).toBe('1.83 GB');
});

test('a count takes the plural of its word', () => {
  expect(plural(1, 'rule')).toBe('1 rule');
  expect(plural(2, 'entry', 'entries')).toBe('2 entries');
});
