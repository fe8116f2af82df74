import { expect, test } from 'vitest';
import { smoothSlowOffset } from '@/lib/core/math/offset-smoother';
import { smoothRandomWalk, smoothWandering } from '@/lib/core/math/random-walk-smoother';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const at = (column: ArrayLike<number>, i: number): number => column[i] ?? Number.NaN;

/** Solves a full system by elimination with pivots. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const rows = matrix.map((row, i) => [...row, at(right, i)]);
  const n = rows.length;
  for (let k = 0; k < n; k++) {
    const pivot = rows.reduce(
      (best, row, i) =>
        i >= k && Math.abs(at(row, k)) > Math.abs(at(rows[best] ?? [], k)) ? i : best,
      k,
    );
    [rows[k], rows[pivot]] = [rows[pivot] ?? [], rows[k] ?? []];
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const share = at(rows[i] ?? [], k) / at(rows[k] ?? [], k);
      rows[i] = (rows[i] ?? []).map((each, j) => each - share * at(rows[k] ?? [], j));
    }
  }
  return rows.map((row, i) => at(row, n) / at(row, i));
}

const WALK_PER_S = 3e-4;
const DRIFT = { variance: 4e-4, timeS: 15 };
const SLOW_S = 20;
const N = 24;

function example() {
  const random = seededRandom(5);
  const tS = Float64Array.from({ length: N }, (_, i) => 1.5 * i + 0.4 * random());
  const slow = tS.map((_, i) => 0.01 + 0.001 * i);
  const white = tS.map(() => 0.004);
  const seen = tS.map((whenS, i) =>
    i % 7 === 3 ? Number.NaN : 0.02 * whenS + 0.1 * gaussian(random),
  );
  return { tS, seen, white, slow, slowS: SLOW_S, drift: DRIFT };
}

/** Covariance of a first-order process's integral, both integrals from 0. */
function integralCovariance(a: number, b: number): number {
  const { variance, timeS: T } = DRIFT;
  const [low, high] = [Math.min(a, b), Math.max(a, b)];
  const e = (x: number): number => Math.exp(-x / T);
  return variance * T * (2 * low - T * (1 - e(low) - e(high) + e(high - low)));
}

/**
 * Against the conditional mean and variance of jointly normal variables, by elimination of the full
 * covariance: T. W. Anderson, "An Introduction to Multivariate Statistical Analysis", theorem 2.5.1.
 */
test('the smoothed offset is the conditional mean, and its variance the conditional one', () => {
  const walk = example();
  const { tS, seen, white, slow } = walk;
  const times = [...tS];
  const start = at(times, 0);
  const prior = 1e6 * (at(white, 0) + at(slow, 0));
  const offset = times.map((a) =>
    times.map(
      (b) =>
        prior + WALK_PER_S * (Math.min(a, b) - start) + integralCovariance(a - start, b - start),
    ),
  );
  const known = times.flatMap((_, i) => (Number.isNaN(at(seen, i)) ? [] : [i]));
  const matrix = known.map((i) =>
    known.map((j) => {
      const apart = Math.abs(at(times, i) - at(times, j));
      const hangs = Math.sqrt(at(slow, i) * at(slow, j)) * Math.exp(-apart / SLOW_S);
      return at(offset[i] ?? [], j) + hangs + (i === j ? at(white, i) : 0);
    }),
  );
  const level = at(seen, 0);
  const weights = solve(
    matrix,
    known.map((i) => at(seen, i) - level),
  );
  const got = smoothSlowOffset(walk, WALK_PER_S);
  for (let i = 0; i < N; i++) {
    const beside = known.map((j) => at(offset[i] ?? [], j));
    const mean = level + beside.reduce((sum, each, k) => sum + each * at(weights, k), 0);
    const back = solve(matrix, beside);
    const variance =
      at(offset[i] ?? [], i) - beside.reduce((sum, each, k) => sum + each * at(back, k), 0);
    expect(Math.abs(at(got.mean, i) - mean)).toBeLessThan(1e-6);
    expect(Math.abs(at(got.variance, i) / variance - 1)).toBeLessThan(1e-3);
  }
});

test('without slow noise and drift it is the smoother of a random walk', () => {
  const { tS, seen, white } = example();
  const none = { slow: tS.map(() => 0), slowS: 1, drift: { variance: 0, timeS: 1 } };
  const got = smoothSlowOffset({ tS, seen, white, ...none }, WALK_PER_S);
  const step = tS.map((whenS, i) => (i === 0 ? 0 : WALK_PER_S * (whenS - at(tS, i - 1))));
  const priorVariance = 1e6 * at(white, 0);
  const walk = { seen, noise: white, step, priorMean: at(seen, 0), priorVariance };
  const want = smoothRandomWalk(walk);
  for (let i = 0; i < N; i++) {
    expect(Math.abs(at(got.mean, i) - at(want.mean, i))).toBeLessThan(1e-6);
    expect(Math.abs(at(got.variance, i) / at(want.variance, i) - 1)).toBeLessThan(1e-5);
  }
});

test('a level that wanders at one rate is smoothed in place as with columns for steps and noise', () => {
  const { tS, seen, white } = example();
  const holes = seen.map((one, i) => (i % 5 === 3 ? Number.NaN : one));
  const step = tS.map((whenS, i) => (i === 0 ? 0 : WALK_PER_S * (whenS - at(tS, i - 1))));
  const want = smoothRandomWalk({
    seen: holes,
    noise: white,
    step,
    priorMean: 0,
    priorVariance: 1e12,
  });
  const level = holes.slice();
  const sd = new Float64Array(N);
  const walk = { tS, noiseSd: white.map(Math.sqrt), variancePerS: WALK_PER_S };
  smoothWandering(walk, level, sd);
  for (let i = 0; i < N; i++) {
    expectWithin(at(level, i), at(want.mean, i), 1e-12, 'rounding of the noise squared');
    expectWithin(at(sd, i) ** 2, at(want.variance, i), 1e-12, 'rounding of the noise squared');
  }
});
