import { describe, expect, test } from 'vitest';
import { parseInstant } from '@/lib/core/time/parse';
import { readTimeEntry } from '@/lib/view/timeline-time-entry';

const zero = parseInstant('2031-04-17T09:30:00Z', 'UTC');
const place = {
  session: { fromS: 0, toS: 2400 },
  zeroTaiNs: String(zero?.taiNs),
};
const read = (text: string, at = place) => {
  const entry = readTimeEntry(text, at);
  return entry.ok ? entry.tS : entry.problem;
};

describe('a time typed on the timeline', () => {
  test('is session time where nothing marks it', () => {
    expect(read('00:18:14.5')).toBe(1094.5);
    expect(read('1094,5')).toBe(1094.5);
    expect(read('00:00')).toBe(0);
  });

  test('is a clock time where it is marked or dated, calendar or day of year', () => {
    expect(read('09:30:44Z')).toBe(44);
    expect(read('9:31 UTC')).toBe(60);
    expect(read('2031-04-17T09:30:44.5')).toBe(44.5);
    expect(read('2031-107T09:30:44Z')).toBe(44);
  });

  /** Source: IERS Bulletin C 52 (2016): TAI-UTC 37 s since 2017. IS-GPS-200: TAI-GPS 19 s. TT-TAI 32.184 s. */
  test('on TAI, GPS and TT it stands off by their published differences to UTC', () => {
    expect(read('09:30:47 TAI')).toBe(10);
    expect(read('09:30:28 gps')).toBe(10);
    expect(read('09:31:19.184 TT')).toBe(10);
  });

  test('a clock time that only UTC explains is taken as UTC and said so', () => {
    const entry = readTimeEntry('09:55:00', place);
    expect(entry).toEqual({ ok: true, tS: 1500, note: 'read as UTC: 00:25:00.0 of the session' });
  });

  // By hand: mission time counts from 08:20:30 UTC, 4170 s before the session's zero at 09:30:00.
  test('marked with MET it is mission time, where the session declares any', () => {
    const missionZeroTaiNs = String(parseInstant('2031-04-17T08:20:30Z', 'UTC')?.taiNs);
    const at = { ...place, missionZeroTaiNs };
    expect(read('01:09:30 MET', at)).toBe(0);
    expect(read('4180.5 met', at)).toBe(10.5);
    expect(read('00:10:00 MET', at)).toMatch(/^Outside the session/);
    expect(read('soon MET', at)).toMatch(/^Not a time.*mission time such as/);
    expect(read('01:09:30 MET')).toMatch(/declares no zero of mission time/);
  });

  test('a session over midnight finds the clock time on its own day', () => {
    const late = parseInstant('2031-04-17T23:50:00Z', 'UTC');
    const over = { session: { fromS: -60, toS: 2400 }, zeroTaiNs: String(late?.taiNs) };
    expect(read('00:10 UTC', over)).toBe(1200);
    expect(read('23:49:30Z', over)).toBe(-30);
  });

  test('outside the session it is refused with the ends of the session, not moved there', () => {
    expect(read('03:00:00')).toMatch(/^Outside the session.*09:30:00 to 10:10:00 UTC/);
    expect(read('2031-04-18T09:31:00Z')).toMatch(/^Outside/);
    for (const text of ['soon', '25:00 UTC', '', '09:30:44 EST'])
      expect(read(text)).toMatch(/^Not a/);
  });
});
