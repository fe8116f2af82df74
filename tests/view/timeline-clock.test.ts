/** Clocks and places of the timeline's axis, against clock times worked out by hand. */
import { expect, test } from 'vitest';
import { parseInstant } from '@/lib/core/time/parse';
import { distanceWarp } from '@/lib/view/charts/axis-warp';
import { type AxisKind, timelineClock } from '@/lib/view/timeline-clock';
import { readTimeEntry } from '@/lib/view/timeline-time-entry';
import { tellTimes, toldStretch } from '@/lib/view/told-times';

const taiNs = (utc: string): string => `${parseInstant(utc, 'UTC')?.taiNs}`;
const place = {
  session: { fromS: 0, toS: 3600 },
  zeroTaiNs: taiNs('2031-04-17T09:05:00Z'),
  missionZeroTaiNs: taiNs('2031-04-16T09:00:00Z'),
  contactS: 3000,
  log: [{ tS: 977.2, text: 'Jets on' }],
};
const clockOf = (axis: AxisKind) => timelineClock(axis, place);

test('one instant on each clock of the session', () => {
  expect(clockOf({ kind: 'session' }).text(61.25)).toBe('00:01:01.3');
  expect(clockOf({ kind: 'utc' }).text(61.2)).toBe('09:06:01.2');
  // A day and five minutes before the zero.
  expect(clockOf({ kind: 'mission' }).text(61.2)).toBe('24:06:01.2');
  const since = clockOf({ kind: 'since', eventS: 977.2 });
  expect(since.name).toBe('time from Jets on');
  expect(since.text(967.2)).toBe('\u221200:00:10.0');
  expect(clockOf({ kind: 'since', eventS: 3000 }).name).toBe('time from contact');
});

test('a session over midnight shows the day beside UTC', () => {
  const long = { ...place, session: { fromS: 0, toS: 80_000 } };
  expect(timelineClock({ kind: 'utc' }, long).text(60_000)).toBe('2031-04-18 01:45:00.0');
});

test('ticks stand at round times of the clock, not of the session', () => {
  const odd = { ...place, zeroTaiNs: taiNs('2031-04-17T09:05:07.5Z') };
  const { ticks } = timelineClock({ kind: 'utc' }, odd);
  expect(ticks({ fromS: 0, toS: 1800 }, 4)).toEqual([
    { at: 292.5, text: '09:10' },
    { at: 892.5, text: '09:20' },
    { at: 1492.5, text: '09:30' },
  ]);
});

test('what a field shows is read back as the same instant, on every clock', () => {
  for (const axis of [
    { kind: 'session' },
    { kind: 'utc' },
    { kind: 'mission' },
    { kind: 'distance' },
    { kind: 'since', eventS: 977.2 },
  ] as const) {
    const clock = clockOf(axis);
    const entry = readTimeEntry(clock.fieldText(1234.567), { ...place, clock });
    expect(entry, axis.kind).toEqual({ ok: true, tS: expect.closeTo(1234.567, 6), note: '' });
  }
});

test('a sentence is told on the clock of the reader', () => {
  const told = `Hold: ${toldStretch(60, 120)}, 1 min`;
  expect(tellTimes(told, clockOf({ kind: 'utc' }))).toBe('Hold: 09:06:00.0 to 09:07:00.0, 1 min');
});

test('equal lengths of the axis of distance are equal distances closed', () => {
  // Closes at 1 m/s, holds 100 s at 50 m, closes at 0.5 m/s.
  const tS = Array.from({ length: 251 }, (_, second) => second);
  const rangeM = tS.map((at) => (at <= 50 ? 100 - at : at <= 150 ? 50 : 50 - 0.5 * (at - 150)));
  const warp = distanceWarp({ tS, rangeM }, { fromS: 0, toS: 250 });
  if (warp === null) throw new Error('it closes');
  const share = (at: number): number => warp.place(at) / 250;
  expect(share(0)).toBe(0);
  expect(share(250)).toBeCloseTo(1, 9);
  // Half the distance is closed before the hold; a fiftieth of the axis follows time.
  expect(share(50)).toBeCloseTo(0.5, 1);
  expect(share(150) - share(50)).toBeLessThan(0.011);
  for (const at of [0, 20, 50, 99.5, 150, 212.25, 250])
    expect(warp.instant(warp.place(at))).toBeCloseTo(at, 6);
  const ticks = warp.ticks(5);
  expect(ticks.map((tick) => tick.text)).toContain('60 m');
  const at60 = ticks.find((tick) => tick.text === '60 m')?.at ?? Number.NaN;
  expect(warp.instant(at60)).toBeCloseTo(40, 6);
});

test('on the way out equal lengths of the distance axis are equal distances opened', () => {
  // Holds 50 s at 20 m, opens at 1 m/s to 70 m, comes back 10 m, goes on out to 120 m.
  const tS = Array.from({ length: 171 }, (_, second) => second);
  const outM = (at: number): number =>
    at <= 50 ? 20 : at <= 100 ? at - 30 : at <= 110 ? 170 - at : at - 50;
  const warp = distanceWarp({ tS, rangeM: tS.map(outM) }, { fromS: 0, toS: 170 });
  if (warp === null) throw new Error('it opens');
  const share = (at: number): number => warp.place(at) / 170;
  // Half of the hundred metres lie before the way back, which takes no more than the sliver of its time.
  expect(share(100)).toBeCloseTo(0.5, 1);
  expect(share(120) - share(100)).toBeLessThan(0.004);
  expect(share(50)).toBeLessThan(0.01);
  expect(share(170)).toBeCloseTo(1, 9);
  const ticks = warp.ticks(5);
  const texts = ticks.map(({ text }) => text);
  expect(texts).toEqual([...texts].sort((a, b) => Number.parseFloat(a) - Number.parseFloat(b)));
  const at60 = ticks.find((tick) => tick.text === '60 m')?.at ?? Number.NaN;
  expect(warp.instant(at60)).toBeCloseTo(90, 6);
});

test('a window in which nothing closes or opens has no axis of distance', () => {
  const tS = [0, 1, 2, 3];
  expect(distanceWarp({ tS, rangeM: [10, 10.1, 9.9, 10] }, { fromS: 0, toS: 3 })).toBeNull();
  expect(distanceWarp({ tS, rangeM: [10, 10.4, 10.4, 10] }, { fromS: 0, toS: 3 })).toBeNull();
  expect(distanceWarp({ tS: [], rangeM: [] }, { fromS: 0, toS: 3 })).toBeNull();
});
