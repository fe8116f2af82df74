import { expect, test } from 'vitest';
import { channelRhythm } from '@/lib/core/series/rhythm';
import { findSaturated } from '@/lib/core/series/saturation';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const N = 3000;
const STEP_S = 0.2;
const tS = Float64Array.from({ length: N }, (_, i) => i * STEP_S);

/** A swing of 40 s that a sensor of the given reach would show, with noise before it is cut off. */
function swing(reach: number, noise = 0.01): Float64Array {
  const random = seededRandom(5);
  return tS.map((atS) => {
    const value = 2 * Math.sin((2 * Math.PI * atS) / 40) + noise * gaussian(random);
    return Math.max(-reach, Math.min(reach, value));
  });
}

function saturated(values: Float64Array) {
  return findSaturated({ tS, values }, channelRhythm(tS, values), 1);
}

test('a swing cut off at both ends is saturated at every top and bottom', () => {
  const found = saturated(swing(1.6));
  expect(found).toHaveLength(30);
  // 2 sin(2 pi t / 40) passes 1.6 at 5.90 s and again at 14.10 s.
  expect((found[0]?.from ?? 0) * STEP_S).toBeCloseTo(5.9, 0);
  expect((found[0]?.to ?? 0) * STEP_S).toBeCloseTo(14.1, 0);
});

test('a whole swing is not, with noise, smooth, or written with few digits', () => {
  expect(saturated(swing(9))).toEqual([]);
  expect(saturated(swing(9, 0))).toEqual([]);
  for (const digits of [1, 2, 3]) {
    const written = swing(9, 0).map((value) => Number(value.toFixed(digits)));
    expect(saturated(written)).toEqual([]);
  }
});

test('a slow value held in fast rows counts its renewals', () => {
  const fast = swing(1.6);
  const held = tS.map((_, i) => fast[i - (i % 5)] ?? 0);
  expect(channelRhythm(tS, held).kind).toBe('held');
  expect(saturated(held)).toHaveLength(30);
});

test('a counter, a mode, a controller and a value that rests at 0 are not', () => {
  const counter = tS.map((atS) => Math.floor(atS / 37));
  const mode = tS.map((atS) => (atS < 300 ? 1 : 2));
  const controller = tS.map((atS) => (Math.sin(atS / 9) > 0.8 ? 1 : 0));
  const resting = swing(9).map((value) => Math.max(0, value));
  for (const values of [counter, mode, controller, resting]) expect(saturated(values)).toEqual([]);
});

test('a value that stops where the record starts or ends is not told from one that rests', () => {
  const random = seededRandom(6);
  const falling = tS.map((atS) => Math.min(80, 100 - 0.1 * atS + 0.01 * gaussian(random)));
  expect(saturated(falling)).toEqual([]);
});

test('noise alone makes none in a hundred thousand samples', () => {
  const random = seededRandom(34);
  const values = Float64Array.from({ length: 100_000 }, () => Math.round(50 * gaussian(random)));
  const times = values.map((_, i) => i * 0.1);
  expect(findSaturated({ tS: times, values }, channelRhythm(times, values), 1)).toEqual([]);
});
