import { expect, test } from 'vitest';
import { readSessionFile } from '@/lib/core/session/read-session-file';

const sessionWith = (log: string): string => `title: Test
kind: flight
zero: 2026-04-17T09:12:30Z
sources:
  - { file: loop.vtt, type: events${log} }
`;
const read = (log: string) => readSessionFile(sessionWith(log), 'session.yaml');

test('a log can say that it was there afterwards only; unsaid, nothing is stated', () => {
  const [stated] = read(', available: afterwards').value?.sources ?? [];
  expect(stated).toMatchObject({ type: 'events', available: 'afterwards' });
  const [plain] = read('').value?.sources ?? [];
  expect(plain).not.toHaveProperty('available');
});

test('another word is an error with its line and what may stand there', () => {
  const { value, issues } = read(', available: later');
  expect(value).toBeNull();
  expect(issues.map(({ line, keyPath }) => [line, keyPath])).toEqual([[5, 'sources[0].available']]);
});
