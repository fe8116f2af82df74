import { expect, test } from 'vitest';
import { clipToSpans } from '@/lib/core/rules/rule-domain';

/** By hand: a line of slope 1 over 40,000 s, clipped to 4,000 spans of 4 s from half a second on. */
test('a line is clipped to thousands of short spans in a moment', { timeout: 2000 }, () => {
  const tS = Float64Array.from({ length: 40_000 }, (_, row) => row);
  const spans = Array.from({ length: 4_000 }, (_, k) => ({
    fromS: 10 * k + 0.5,
    toS: 10 * k + 4.5,
  }));
  const line = {
    tS,
    room: tS,
    pieces: [
      { from: 0, to: 20_005 },
      { from: 20_005, to: 40_000 },
    ],
  };
  const clipped = clipToSpans(line, spans);
  expect(clipped.pieces.length).toBe(4_000);
  expect([...clipped.tS.subarray(0, 6)]).toEqual([0.5, 1, 2, 3, 4, 4.5]);
  expect(clipped.room.every((value, k) => value === clipped.tS[k])).toBe(true);
  expect(clipped.pieces[1]).toEqual({ from: 6, to: 12 });
});
