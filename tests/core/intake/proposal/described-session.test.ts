import { expect, test } from 'vitest';
import { missingTrack, openQuestions } from '@/lib/core/intake/proposal/described-session';
import type { DescribedFile } from '@/lib/core/intake/proposal/session-proposal';

const TELEMETRY: DescribedFile = {
  file: 'nav.csv',
  use: 'telemetry',
  time: { columns: ['t'], code: 'elapsed-seconds', scale: 'UTC', from: null, dateOrder: null },
  ownTimes: false,
  layout: 'wide',
  nameColumn: null,
  valueColumn: null,
  channels: [{ column: 'x', as: 'position.x', unit: 'm', sign: 1 }],
  clock: 'own',
};

const open = (file: DescribedFile): readonly string[] =>
  openQuestions({ title: 'A', kind: 'flight', zero: '2026-03-02T10:00:00Z', files: [file] }).map(
    ({ message }) => message,
  );

test('telemetry of which nothing is said about its times is open, not left out', () => {
  expect(open(TELEMETRY)).toEqual([]);
  expect(open({ ...TELEMETRY, channels: [] })).toEqual([
    'no column of it has a quantity: name one, or leave the file out',
  ]);
  expect(open({ ...TELEMETRY, time: null })).toEqual(['how its times are written is not said']);
});

const track = (...as: readonly (string | null)[]): readonly string[] => {
  const channels = as.map((each, at) => ({
    column: `c${at}`,
    as: each,
    unit: 'm',
    sign: 1 as const,
  }));
  const files = [{ ...TELEMETRY, channels }];
  return missingTrack({ title: 'A', kind: 'flight', zero: '', files }).map(
    ({ message }) => message,
  );
};

test('telemetry that does not tell how far the vehicle is is warned of, with its unused columns', () => {
  expect(track('velocity.x', null, null)).toEqual([
    expect.stringMatching(
      /no column is position\.x, position\.y, position\.z or range.*: c1, c2\./,
    ),
  ]);
  expect(track('position.x', 'position.y')[0]).toMatch(/no column is position\.z or range/);
});

test('a range, or a position in three components, is a track', () => {
  expect(track('range')).toEqual([]);
  expect(track('position.x', 'position.y', 'position.z')).toEqual([]);
});
