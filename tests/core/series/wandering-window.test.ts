import { expect, test } from 'vitest';
import { wanderingWindow } from '@/lib/core/series/wandering-window';
import { dot } from '@/lib/core/series/whitened-window';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const [WANDER_MPS, WANDER_S, SLOW_M, SLOW_S, REACH_S] = [0.004, 12, 0.05, 9, 15];

/** Uneven bins with noise that grows; values are noise alone. */
function someBins() {
  const random = seededRandom(5);
  const tS = Float64Array.from({ length: 31 }, (_, k) => k + 0.3 * Math.sin(k));
  return {
    tS,
    values: tS.map(() => 0.1 * gaussian(random)),
    quick: tS.map((_, k) => 0.002 + 0.0001 * k),
    slow: tS.map(() => SLOW_M * SLOW_M),
    slowS: SLOW_S,
  };
}

/** Covariance of the way of a first-order process from 0 to `a` and to `b`, by a plain double sum over its own. */
function wayCovariance(a: number, b: number): number {
  const stepS = 0.1;
  let sum = 0;
  for (let s = stepS / 2; s < a; s += stepS) {
    for (let t = stepS / 2; t < b; t += stepS) {
      sum += Math.exp(-Math.abs(s - t) / WANDER_S) * stepS * stepS;
    }
  }
  return WANDER_MPS * WANDER_MPS * sum;
}

/** Solves a x = b for symmetric a, and the logarithm of its determinant, by plain elimination. */
function solved(a: readonly (readonly number[])[], b: readonly number[]) {
  const rows = a.map((row, i) => [...row, b[i] ?? 0]);
  const n = rows.length;
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    const pivot = rows[i]?.[i] ?? Number.NaN;
    logDeterminant += Math.log(pivot);
    for (let r = 0; r < n; r++) {
      if (r === i) continue;
      const share = (rows[r]?.[i] ?? 0) / pivot;
      for (let c = i; c <= n; c++) {
        const row = rows[r];
        if (row !== undefined) row[c] = (row[c] ?? 0) - share * (rows[i]?.[c] ?? 0);
      }
    }
  }
  return { x: rows.map((row, i) => (row[n] ?? 0) / (row[i] ?? 1)), logDeterminant };
}

/**
 * Source: the normal law itself. With C all covariances at once, squares free of a level are y'C^-1 y - (1'C^-1 y)2 / 1'C^-1 1, and
 * the weight before them is -log|C| - log 1'C^-1 1.
 */
test('a window that wanders weighs data as all their covariances at once do', () => {
  const bins = someBins();
  const window = wanderingWindow(bins, 15, {
    ...{ reachS: REACH_S, fewest: 5 },
    wander: { sdMps: WANDER_MPS, timeS: WANDER_S },
  });
  if (window === null) throw new Error('no window');
  const rows = Array.from(bins.tS.keys()).filter(
    (k) => (bins.tS[k] ?? 0) >= 15 - REACH_S && (bins.tS[k] ?? 0) < 15 + REACH_S,
  );
  expect(window.data.length).toBe(rows.length);
  const at = (k: number): number => bins.tS[k] ?? Number.NaN;
  const firstS = at(rows[0] ?? 0);
  const covariance = rows.map((i) =>
    rows.map((k) => {
      const slow = SLOW_M * SLOW_M * Math.exp(-Math.abs(at(i) - at(k)) / SLOW_S);
      const white = i === k ? (bins.quick[i] ?? 0) : 0;
      return slow + white + wayCovariance(at(i) - firstS, at(k) - firstS);
    }),
  );
  const times = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, one, k) => sum + one * (b[k] ?? 0), 0);
  const ones = rows.map(() => 1);
  const y = rows.map((k) => bins.values[k] ?? 0);
  const ramp = rows.map((k) => Math.max(0, at(k) - 15) ** 2);
  const [ofOnes, ofY] = [solved(covariance, ones), solved(covariance, y)];
  const level = times(ones, ofOnes.x);
  const free = (a: readonly number[]): number =>
    times(a, ofY.x) - (times(a, ofOnes.x) * times(ones, ofY.x)) / level;
  expectWithin(window.left, free(y), 0.01, 'sums over 0.1 s stand for integrals');
  expectWithin(
    dot(
      window.columnOf((atS) => Math.max(0, atS) ** 2),
      window.data,
    ) / free(ramp),
    1,
    0.01,
    'sums over 0.1 s',
  );
  expectWithin(window.logWeight, -ofOnes.logDeterminant - Math.log(level), 0.01, 'sums over 0.1 s');
});

test('a window with too few bins on one side is none', () => {
  const wander = { sdMps: WANDER_MPS, timeS: WANDER_S };
  expect(wanderingWindow(someBins(), 3, { reachS: REACH_S, fewest: 5, wander })).toBeNull();
});
