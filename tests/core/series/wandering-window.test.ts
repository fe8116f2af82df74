import { expect, test } from 'vitest';
import { wanderingWindow } from '@/lib/core/series/wandering-window';
import { dot } from '@/lib/core/series/whitened-window';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';
import { solved } from '../../support/solved';

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

const times = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, one, k) => sum + one * (b[k] ?? 0), 0);

function bothWays() {
  const bins = someBins();
  const window = wanderingWindow(bins, 15, {
    ...{ reachS: REACH_S, fewest: 5 },
    wander: { sdMps: WANDER_MPS, timeS: WANDER_S },
  });
  if (window === null) throw new Error('no window');
  const rows = Array.from(bins.tS.keys()).filter(
    (k) => (bins.tS[k] ?? 0) >= 15 - REACH_S && (bins.tS[k] ?? 0) < 15 + REACH_S,
  );
  const atS = rows.map((k) => bins.tS[k] ?? Number.NaN);
  const firstS = atS[0] ?? 0;
  const covariance = atS.map((a, i) =>
    atS.map((b, k) => {
      const slow = SLOW_M * SLOW_M * Math.exp(-Math.abs(a - b) / SLOW_S);
      const white = i === k ? (bins.quick[rows[i] ?? 0] ?? 0) : 0;
      return slow + white + wayCovariance(a - firstS, b - firstS);
    }),
  );
  return { window, atS, covariance, values: rows.map((k) => bins.values[k] ?? 0) };
}

/** The window, and the covariances of its bins all at once. */
const BOTH = bothWays();

/**
 * Source: the normal law itself. With C all covariances at once, squares free of a level are y'C^-1 y - (1'C^-1 y)2 / 1'C^-1 1, and
 * the weight before them is -log|C| - log 1'C^-1 1.
 */
test('a window that wanders weighs data as all their covariances at once do', () => {
  const { window, atS: binS, covariance, values: y } = BOTH;
  expect(window.data.length).toBe(y.length);
  const ones = y.map(() => 1);
  const ramp = binS.map((atS) => Math.max(0, atS - 15) ** 2);
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

/** Source: as above; the rate's own covariance with the bins is a plain sum over its way. */
test('what a window says of the rate that wanders is what all bins at once say', () => {
  const { window, atS: binS, covariance, values: y } = BOTH;
  const rateS = 19;
  const withRate = binS.map((toS) => {
    const stepS = 0.01;
    let sum = 0;
    for (let s = (binS[0] ?? 0) + stepS / 2; s < toS; s += stepS) {
      sum += Math.exp(-Math.abs(s - rateS) / WANDER_S) * stepS;
    }
    return WANDER_MPS * WANDER_MPS * sum;
  });
  const ones = y.map(() => 1);
  const [ofOnes, ofY, ofRate] = [ones, y, withRate].map((b) => solved(covariance, b).x);
  const perLevel = times(ones, ofOnes ?? []);
  const [ofLevel, level] = [times(ones, ofRate ?? []), times(ones, ofY ?? []) / perLevel];
  const meanMps = times(withRate, ofY ?? []) - ofLevel * level;
  const taken = times(withRate, ofRate ?? []) - ofLevel ** 2 / perLevel;
  const column = window.rateColumn(rateS - 15);
  expect(Math.abs(meanMps)).toBeGreaterThan(1e-4);
  expectWithin(dot(column, window.data), meanMps, 2e-5, 'sums over 0.1 and 0.01 s');
  expectWithin(dot(column, column), taken, 2e-7, 'sums over 0.1 and 0.01 s');
});

test('a window with too few bins on one side is none', () => {
  const wander = { sdMps: WANDER_MPS, timeS: WANDER_S };
  expect(wanderingWindow(someBins(), 3, { reachS: REACH_S, fewest: 5, wander })).toBeNull();
});
