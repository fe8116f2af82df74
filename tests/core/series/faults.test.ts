import { describe, expect, test } from 'vitest';
import { findFrozen, findGaps, findSpikes } from '@/lib/core/series/faults';
import { channelRhythm } from '@/lib/core/series/rhythm';
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

  /** Source: the definition in the docstring, written out with sorting; brute force. */
  test('blocks passed over hold none that the plain form finds, for sixty signals', () => {
    let found = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const values = spiky(seed);
      const plain = spikesByDefinition(values);
      found += plain.length;
      expect(findSpikes(tS, values)).toEqual(plain);
    }
    expect(found).toBeGreaterThan(300);
  });
});

/** Noise of changing size and few digits, with holes and with excursions from hardly to far outside. */
function spiky(seed: number): Float64Array {
  const random = seededRandom(seed);
  const digit = seed % 3 === 0 ? 0.05 : 1e-6;
  let size = 1;
  return Float64Array.from(tS, (atS) => {
    size *= Math.exp(0.05 * gaussian(random));
    const excursion = random() < 0.005 ? 30 * size * random() : 0;
    if (random() < 0.01) return Number.NaN;
    return digit * Math.round((Math.sin(atS / 9) + size * gaussian(random) + excursion) / digit);
  });
}

const middle = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  const [low, high] = [sorted[(sorted.length - 1) >> 1], sorted[sorted.length >> 1]];
  return ((low ?? Number.NaN) + (high ?? Number.NaN)) / 2;
};

/** True where rows stand off the line through the eight rows on either side, which agree with it. */
function standsOff(values: Float64Array, from: number, to: number, scatter: number): boolean {
  const known = (row: number): boolean => !Number.isNaN(values[row] ?? Number.NaN);
  const near = (row: number, beside: number): boolean => Math.abs(row - beside) <= 24 && known(row);
  const all = Array.from(values.keys());
  const before = all.slice(Math.max(0, from - 24), from).filter((row) => near(row, from));
  const after = all.slice(to + 1, to + 25).filter((row) => near(row, to));
  const rows = [...before.slice(-8), ...after.slice(0, 8)];
  if (before.length < 4 || after.length < 4) return false;
  const meanT = rows.reduce((sum, row) => sum + row, 0) / rows.length;
  const meanY = rows.reduce((sum, row) => sum + (values[row] ?? 0), 0) / rows.length;
  const spread = rows.reduce((sum, row) => sum + (row - meanT) ** 2, 0);
  const product = rows.reduce((sum, row) => sum + (row - meanT) * ((values[row] ?? 0) - meanY), 0);
  const off = (row: number): number =>
    Math.abs((values[row] ?? Number.NaN) - meanY - (product / spread) * (row - meanT));
  const distances = rows.map(off);
  const sd = Math.max(1.1 * 1.482602218505602 * middle(distances), scatter / Math.SQRT2);
  const inside = all.slice(from, to + 1).filter(known);
  return sd > 0 && inside.every((row) => off(row) > 8 * sd) && Math.max(...distances) < 5 * sd;
}

function spikesByDefinition(values: Float64Array): readonly { from: number; to: number }[] {
  const spikes: { from: number; to: number }[] = [];
  const step = (row: number): number => Math.abs((values[row] ?? 0) - (values[row - 1] ?? 0));
  const scatterFrom = (start: number): number => {
    const end = Math.min(values.length, start + 512);
    const stride = Math.max(1, Math.floor((end - start) / 128));
    const steps: number[] = [];
    for (let at = Math.max(1, start); at < end && steps.length < 128; at += stride) {
      if (!Number.isNaN(step(at))) steps.push(step(at));
    }
    const apart = Array.from({ length: end - start - 1 }, (_, k) => step(start + 1 + k));
    const written = Math.min(...apart.filter((size) => size > 0)) / Math.sqrt(12);
    return Math.max(1.482602218505602 * middle(steps), Math.SQRT2 * written);
  };
  let scatter = Number.NaN;
  for (let row = 1; row < values.length; row++) {
    const start = row - (row % 512);
    if (row === 1 || row === start) scatter = scatterFrom(start);
    if (!(step(row) > 5.5 * scatter) || row <= (spikes.at(-1)?.to ?? -2) + 1) continue;
    const length = [1, 2, 3].find((rows) => standsOff(values, row, row + rows - 1, scatter));
    if (length !== undefined) spikes.push({ from: row, to: row + length - 1 });
  }
  return spikes;
}

test('a channel that changes by single steps of its last digit has no spikes', () => {
  const random = seededRandom(4);
  // 0.3 of a digit away from rounding up, by noise of 0.15: seldom a digit up, and back.
  const values = tS.map(() => Math.round(0.2 + 0.15 * gaussian(random)) * 0.01);
  expect(values.filter((value) => value !== 0).length).toBeGreaterThan(20);
  expect(findSpikes(tS, values)).toEqual([]);
  values[1500] = 0.05;
  expect(findSpikes(tS, values)).toEqual([{ from: 1500, to: 1500 }]);
});
