import { expect, test } from 'vitest';
import { channelRhythm, markRepeats } from '@/lib/core/series/rhythm';

const tS = Float64Array.from({ length: 1000 }, (_, row) => row);

/** By the meaning of the word: held data are renewed at one period, whatever the value does. */
test('a slow swing written in four decimals is not held', () => {
  const swing = tS.map((atS) => Number((0.002 * Math.cos(atS / 50)).toFixed(4)));
  expect(channelRhythm(tS, swing).kind).toBe('now-and-then');
});

test('a value renewed every 3 s that changes by one digit is held', () => {
  const held = tS.map((atS) => Number((0.0001 * Math.floor(atS / 3)).toFixed(4)));
  expect(channelRhythm(tS, held)).toMatchObject({ kind: 'held', periodS: 3 });
});

test('a held value that stays is a sample at each renewal, one that is renewed late is none between', () => {
  // Renewed every 3 s; from 30 s on it stays for 30 s, and the renewal of 90 s comes 2 s late.
  const values = tS.map((atS) => {
    const renewal = Math.floor((atS < 92 ? Math.min(atS, 89) : atS) / 3);
    return renewal >= 10 && renewal < 20 ? 10 : renewal;
  });
  const marks = new Uint8Array(tS.length);
  markRepeats({ tS, values }, 3, marks);
  const samples = [...tS].filter((_, row) => marks[row] === 0);
  expect(samples.slice(0, 36)).toEqual([
    ...Array.from({ length: 30 }, (_, k) => 3 * k),
    92,
    ...Array.from({ length: 5 }, (_, k) => 93 + 3 * k),
  ]);
});
