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

test('what a stamp means and the latency are kept of every kind of source', () => {
  const [log] =
    read(', stamp: generated, latency_s: 7.5, available: real-time').value?.sources ?? [];
  expect(log).toMatchObject({ stamp: 'generated', latencyS: 7.5, available: 'real-time' });
  const text = sessionWith('').replace(
    'type: events',
    'type: ephemeris, stamp: received, latency_s: 2',
  );
  const [ephemeris] = readSessionFile(text, 'session.yaml').value?.sources ?? [];
  expect(ephemeris).toMatchObject({ type: 'ephemeris', stamp: 'received', latencyS: 2 });
});

test('a way that ends before it begins is an error', () => {
  const { issues } = read(', latency_s: -1');
  expect(issues.map(({ keyPath }) => keyPath)).toEqual(['sources[0].latency_s']);
});

test('another word is an error with its line and what may stand there', () => {
  const { value, issues } = read(', available: later');
  expect(value).toBeNull();
  expect(issues.map(({ line, keyPath }) => [line, keyPath])).toEqual([[5, 'sources[0].available']]);
});
