import { describe, expect, test } from 'vitest';
import { channelRhythm, findFrozen, findGaps, findSpikes } from '@/lib/core/series/faults';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const N = 3000;
const STEP_S = 0.2;
const tS = Float64Array.from({ length: N }, (_, i) => i * STEP_S);

function noisy(seed: number): Float64Array {
  const random = seededRandom(seed);
  return Float64Array.from(tS, (atS) => 50 - 0.1 * atS + 0.05 * gaussian(random));
}

describe('gaps', () => {
  test('a step longer than five median steps is one, five steps are none', () => {
    const times = Float64Array.from([0, 1, 2, 3, 8, 9, 15.1, 16, 17]);
    const { gaps, stepS } = findGaps(times);
    expect(stepS).toBe(1);
    expect(gaps).toEqual([{ from: 5, to: 6 }]);
  });
});

describe('frozen channels', () => {
  test('a noisy channel that repeats to the digit for 10 s is frozen', () => {
    const values = noisy(1);
    values.fill(values[500] ?? 0, 500, 560);
    const rhythm = channelRhythm(tS, values);
    expect(findFrozen(tS, values, rhythm, 1)).toEqual([{ from: 500, to: 559 }]);
  });

  test('9.8 s are too short', () => {
    const values = noisy(1);
    values.fill(values[500] ?? 0, 500, 550);
    expect(findFrozen(tS, values, channelRhythm(tS, values), 1)).toEqual([]);
  });

  test('a counter, a mode and a controller are never frozen', () => {
    const counter = Float64Array.from(tS, (atS) => Math.floor(atS / 37));
    const mode = Float64Array.from(tS, (atS) => (atS < 300 ? 1 : 2));
    const controller = Float64Array.from(tS, (atS) => (Math.sin(atS) > 0.98 ? 1 : 0));
    for (const values of [counter, mode, controller]) {
      expect(findFrozen(tS, values, channelRhythm(tS, values), 1)).toEqual([]);
    }
  });

  test('a value renewed each second in 0.2 s rows is held, and frozen only when it stops', () => {
    const slow = noisy(3);
    const values = Float64Array.from(tS, (_, i) => slow[i - (i % 5)] ?? 0);
    const rhythm = channelRhythm(tS, values);
    expect(rhythm.kind).toBe('held');
    expect(rhythm.periodS).toBeCloseTo(1, 9);
    expect(findFrozen(tS, values, rhythm, 1)).toEqual([]);
    values.fill(values[1000] ?? 0, 1000, 1100);
    expect(findFrozen(tS, values, channelRhythm(tS, values), 1)).toEqual([
      { from: 1000, to: 1099 },
    ]);
  });
});

describe('spikes', () => {
  test('one to three rows that leave the signal and return are spikes', () => {
    for (const length of [1, 2, 3]) {
      const values = noisy(10 + length);
      for (let i = 0; i < length; i++) values[700 + i] = (values[700 + i] ?? 0) + 3;
      expect(findSpikes(tS, values)).toEqual([{ from: 700, to: 699 + length }]);
    }
  });

  test('a step that does not return is none', () => {
    const values = noisy(20);
    for (let i = 1500; i < N; i++) values[i] = (values[i] ?? 0) + 3;
    expect(findSpikes(tS, values)).toEqual([]);
  });

  test('noise alone makes none in half a million samples', () => {
    const random = seededRandom(33);
    const long = Float64Array.from({ length: 500_000 }, () => gaussian(random));
    const times = Float64Array.from({ length: 500_000 }, (_, i) => i * 0.1);
    expect(findSpikes(times, long)).toEqual([]);
  });
});
