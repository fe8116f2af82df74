import { expect, test } from 'vitest';
import { openQuestions } from '@/lib/core/intake/proposal/described-session';
import type { DescribedFile } from '@/lib/core/intake/proposal/session-proposal';

const TELEMETRY: DescribedFile = {
  file: 'nav.csv',
  use: 'telemetry',
  time: { columns: ['t'], code: 'elapsed-seconds', scale: 'UTC', from: null },
  ownTimes: false,
  layout: 'wide',
  nameColumn: null,
  valueColumn: null,
  channels: [],
  clock: 'own',
};

const open = (file: DescribedFile): readonly string[] =>
  openQuestions({ title: 'A', kind: 'flight', zero: '2026-03-02T10:00:00Z', files: [file] }).map(
    ({ message }) => message,
  );

test('telemetry of which nothing is said about its times is open, not left out', () => {
  expect(open(TELEMETRY)).toEqual([]);
  expect(open({ ...TELEMETRY, time: null })).toEqual(['how its times are written is not said']);
});
