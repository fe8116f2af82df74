import { expect, test } from 'vitest';
import type { Recording } from '@/lib/core/session/recording';
import {
  noneRunsText,
  playedRecordings,
  recordedAt,
  recordingAt,
  sessionAt,
  silentRecordings,
  turnedWindow,
} from '@/lib/view/recordings/played-recordings';
import { readClockTyped, readMoment } from '@/lib/view/recordings/recording-clock';
import { recordingsView } from '@/lib/view/recordings/recordings-view';

const SESSION = { fromS: 0, toS: 1000 };
// 2031-04-17T09:30:00Z is 1,934,271,000 s after 1970 and TAI is 37 s ahead of UTC.
const PLACE = { session: SESSION, zeroTaiNs: String((1_934_271_000n + 37n) * 1_000_000_000n) };

const clockOf = (ties: readonly (readonly [number, number])[], id = 'c1') => ({
  id,
  version: 1,
  ties,
  author: 'R. Quill',
  reason: '',
  atIso: '2031-04-18T08:00:00.000Z',
  undone: null,
});

const recording = (change: Partial<Recording> = {}): Recording => ({
  id: 'r1',
  version: 1,
  name: 'loop.wav',
  mediaType: 'audio/wav',
  sha256: 'a'.repeat(64),
  bytes: 480_044,
  durationS: 60,
  folder: 'f1',
  author: 'R. Quill',
  atIso: '2031-04-18T08:00:00.000Z',
  removed: null,
  clocks: [clockOf([[0, 100]])],
  ...change,
});

// By hand: two points 600 s apart of which the session's lie 600.06 s apart are 100 ppm of drift.
test('two tie points give offset and drift, and the way there is the way back', () => {
  const ties = [
    [0, 100],
    [600, 700.06],
  ] as const;
  const [played] = playedRecordings([recording({ clocks: [clockOf(ties)] })], 's');
  if (played === undefined) throw new Error('it can be played');
  expect(played.terms.driftPpm).toBeCloseTo(100, 6);
  expect(sessionAt(played, 300)).toBeCloseTo(400.03, 9);
  expect(recordedAt(played, 700.06)).toBeCloseTo(600, 9);
});

test('the newest word about a clock that was not undone is the one that counts', () => {
  const undone = { ...clockOf([[0, 5]], 'c3'), undone: { by: 'X', atIso: '2031-04-19T00:00:00Z' } };
  const clocks = [undone, clockOf([[0, 300]], 'c2'), clockOf([[0, 100]], 'c1')];
  expect(playedRecordings([recording({ clocks })], 's')[0]?.fromS).toBe(300);
});

test('a recording without file or clock is not played, and said why', () => {
  const away = recording({ id: 'a', name: 'away.mp4', folder: '' });
  const unset = recording({ id: 'b', name: 'unset.ogg', clocks: [] });
  const off = recording({
    id: 'c',
    name: 'off.wav',
    removed: { by: 'X', atIso: '2031-04-19T00:00:00Z' },
  });
  expect(playedRecordings([away, unset, off], 's')).toEqual([]);
  expect(silentRecordings([away, unset, off])).toBe(
    'away.mp4: the file is not here. unset.ogg: its clock is not set.',
  );
  expect(silentRecordings([recording()])).toBeNull();
});

test('at an instant the chosen recording is played where it runs, else one that does', () => {
  const played = playedRecordings(
    [
      recording(),
      recording({ id: 'r2', name: 'camera.webm', durationS: 30, clocks: [clockOf([[0, 150]])] }),
    ],
    's',
  );
  expect(recordingAt(played, 155, 'r2')?.id).toBe('r2');
  expect(recordingAt(played, 155, '')?.id).toBe('r1');
  expect(recordingAt(played, 170, 'r1')?.id).toBe('r2');
  expect(recordingAt(played, 99.9, 'r1')).toBeNull();
  expect(recordingAt(played, 180, 'r1')).toBeNull();
  const clock = { text: (tS: number) => `${tS} s` };
  expect(noneRunsText(played, clock)).toBe(
    'No recording runs at the cursor: loop.wav from 100 s to 160 s; camera.webm from 150 s to 180 s.',
  );
});

test('the window is turned on once the cursor has run out of it, and is left alone before', () => {
  const window = { fromS: 100, toS: 200 };
  expect(turnedWindow(window, 150)).toBe(window);
  expect(turnedWindow(window, 200.1)).toEqual({ fromS: 190.1, toS: 290.1 });
});

test('Sources tell hash, length, clock and coverage, and what stands in the way', () => {
  const [view] = recordingsView([recording()], { sessionId: 's', session: SESSION });
  expect(view).toMatchObject({
    length: '00:01:00.0',
    clock: 'starts at 00:01:40.0',
    coverage: { from: 0.1, to: 0.16 },
    obstacle: null,
    state: 'here',
  });
  const [away] = recordingsView([recording({ folder: '', durationS: null })], {
    sessionId: 's',
    session: SESSION,
  });
  expect(away?.obstacle).toContain('Its file is not here');
  expect(away).toMatchObject({ coverage: null, length: 'not in its head' });
  const [beside] = recordingsView([recording({ clocks: [clockOf([[0, 5000]])] })], {
    sessionId: 's',
    session: SESSION,
  });
  expect(beside?.noCoverage).toContain('beside the session');
});

test('a start is read in any code of the session, also where it lies before its first row', () => {
  expect(readMoment('00:05:00', PLACE)).toMatchObject({ ok: true, tS: 300 });
  expect(readMoment('09:31:00 UTC', PLACE)).toMatchObject({ ok: true, tS: 60 });
  expect(readMoment('09:20:00 UTC', PLACE)).toMatchObject({ ok: true, tS: -600 });
  expect(readMoment('-00:10:00', PLACE)).toMatchObject({ ok: true, tS: -600 });
  const missionZeroTaiNs = String(BigInt(PLACE.zeroTaiNs) - 3_600_000_000_000n);
  const declared = { ...PLACE, missionZeroTaiNs };
  expect(readMoment('01:05:00 MET', declared)).toMatchObject({ ok: true, tS: 300 });
  expect(readMoment('00:50:00 MET', declared)).toMatchObject({ ok: true, tS: -600 });
  expect(readMoment('soon', PLACE)).toMatchObject({ ok: false });
});

test('each field that does not fit is told by itself, a second moment may be left out', () => {
  const typed = { firstAt: '00:00', firstIs: '100', secondAt: '', secondIs: '', reason: '' };
  expect(readClockTyped(typed, PLACE)).toEqual({ ties: [[0, 100]], notes: [] });
  expect(readClockTyped({ ...typed, secondAt: '10:00' }, PLACE)).toMatchObject({
    fields: { secondIs: expect.stringContaining('Not a time') },
  });
  expect(readClockTyped({ ...typed, firstAt: '-5' }, PLACE)).toMatchObject({
    fields: { firstAt: expect.stringContaining('from its start') },
  });
  const backwards = { ...typed, secondAt: '10:00', secondIs: '50' };
  expect(readClockTyped(backwards, PLACE)).toMatchObject({
    fields: { secondIs: expect.stringContaining('backwards') },
  });
});
