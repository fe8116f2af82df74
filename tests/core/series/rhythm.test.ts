import { expect, test } from 'vitest';
import { channelRhythm } from '@/lib/core/series/rhythm';

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
