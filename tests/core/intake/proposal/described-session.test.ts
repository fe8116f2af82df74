import { expect, test } from 'vitest';
import {
  describedSession,
  missingTrack,
  openQuestions,
} from '@/lib/core/intake/proposal/described-session';
import type { DescribedFile } from '@/lib/core/intake/proposal/session-proposal';
import { proposeMeaning } from '@/lib/core/intake/proposal/stamp-meaning';
import { readSessionFile } from '@/lib/core/session/read-session-file';
import { stampingOf } from '@/lib/core/session/stamping';
import { writeSessionFile } from '@/lib/core/session/write-session-file';

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
  stamping: { stamp: null, latency: '', available: null },
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

test('what is said of stamps of any file is written, and read again as it was said', () => {
  const stamping = { stamp: 'generated', latency: '7,5', available: 'afterwards' } as const;
  const time = {
    columns: ['at'],
    code: 'iso8601',
    scale: 'UTC',
    from: null,
    dateOrder: null,
  } as const;
  const log: DescribedFile = { ...TELEMETRY, file: 'a.csv', use: 'events', time, stamping };
  const files = [
    { ...TELEMETRY, stamping },
    log,
    { ...log, file: 'b.oem', use: 'ephemeris' } as const,
  ];
  const zero = '2026-03-02T10:00:00Z';
  const data = describedSession({ title: 'A', kind: 'flight', zero, files });
  const read = readSessionFile(writeSessionFile(data), 'session.yaml');
  expect(read.issues).toEqual([]);
  expect(read.value?.sources.map(stampingOf)).toEqual(
    files.map(() => ({ stamp: 'generated', latencyS: 7.5, available: 'afterwards' })),
  );
});

test('a time on its way that is no number of seconds is open', () => {
  const stamping = { stamp: null, latency: '-2', available: null };
  expect(open({ ...TELEMETRY, stamping })).toEqual([
    'how long it was on its way must be seconds of 0 or more, found "-2"',
  ]);
});

// The words are common practice, no source.
test.each([
  [['rx_time'], 'received'],
  [['gen_time', 'received_at'], null],
  [['packet_time'], 'generated'],
  [['t_meas'], 'measured'],
  [['utc'], null],
] as const)('names of times %o say that a row was %s then', (columns, stamp) => {
  expect(proposeMeaning(columns)?.stamp ?? null).toBe(stamp);
});

test('times of a day without their midnight are open', () => {
  const time = {
    columns: ['sod'],
    code: 'elapsed-seconds',
    scale: 'UTC',
    from: '',
    dateOrder: null,
  } as const;
  expect(open({ ...TELEMETRY, time })).toEqual([
    'the midnight that its times of the day count from is not said',
  ]);
});
