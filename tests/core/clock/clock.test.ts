import { expect, test } from 'vitest';
import { toSessionSeconds } from '@/lib/core/clock/clock-terms';
import type { TiePoint } from '@/lib/core/clock/fit-line';
import { resolveClock } from '@/lib/core/clock/resolve-clock';
import { solveClock } from '@/lib/core/clock/solve-clock';
import { seededRandom } from '../../support/seeded-random';

const tied = (points: readonly TiePoint[]) => resolveClock({ kind: 'tie-points', points }, []);
const AS_STATED = { standingPpm: 0, errors: 'found' } as const;

test('the identity clock keeps every time as it is', () => {
  const clock = resolveClock({ kind: 'given', offsetS: 0, driftPpm: 0 }, []);
  for (const timeS of [0, 0.1, 1e-9, 2437.1, 86_400.000_000_1, -5.3]) {
    expect(toSessionSeconds(clock, timeS)).toBe(timeS);
  }
  expect(clock).toMatchObject({ used: 0, reason: null, offsetUncertaintyS: null });
});

test('a given clock is offset plus source times one plus drift', () => {
  const clock = { offsetS: 37.4, driftPpm: 900 };
  expect(toSessionSeconds(clock, 1000)).toBeCloseTo(1038.3, 12);
});

test('solving the definition for the source time gives it again (seeded)', () => {
  const random = seededRandom(3);
  for (let round = 0; round < 1000; round += 1) {
    const clock = { offsetS: (random() - 0.5) * 1e5, driftPpm: (random() - 0.5) * 1e4 };
    const timeS = (random() - 0.5) * 1e6;
    const back = (toSessionSeconds(clock, timeS) - clock.offsetS) / (1 + clock.driftPpm * 1e-6);
    // Times up to 5.5e5 s: three roundings of 2^-53 each stay below 1e-9 s.
    expect(Math.abs(back - timeS)).toBeLessThan(1e-9);
  }
});

test('one tie point gives an offset and says that it is no more', () => {
  const clock = tied([[100, 103.5]]);
  expect(clock).toMatchObject({ offsetS: 3.5, driftPpm: 0, used: 1, offsetUncertaintyS: null });
  expect(clock.reason).toContain('offset only');
});

test('two tie points fix both terms, without an uncertainty', () => {
  const clock = tied([
    [0, 5],
    [1000, 1006],
  ]);
  expect(clock.offsetS).toBeCloseTo(5, 12);
  expect(clock.driftPpm).toBeCloseTo(1000, 8);
  expect(clock.driftUncertaintyPpm).toBeNull();
  expect(clock.reason).toContain('two tie points');
});

test('points on a line give it back with no uncertainty left', () => {
  const clock = tied([0, 500, 1000, 4000].map((timeS) => [timeS, -2 + timeS * (1 - 250e-6)]));
  expect(clock.offsetS).toBeCloseTo(-2, 9);
  expect(clock.driftPpm).toBeCloseTo(-250, 6);
  expect(clock.residualRmsS).toBeLessThan(1e-9);
});

test('a drift under twice its standard error is 0, with the reason, and the offset is the mean', () => {
  const clock = tied([
    [0, 10.3],
    [100, 109.8],
    [200, 210.1],
    [300, 309.9],
  ]);
  expect(clock.driftPpm).toBe(0);
  expect(clock.offsetS).toBeCloseTo(10.025, 9);
  expect(clock.reason).toContain('under twice its standard error');
});

test('the 95 % interval holds the true drift about 95 times in 100 (seeded)', () => {
  const random = seededRandom(12);
  const rounds = 2000;
  let held = 0;
  for (let round = 0; round < rounds; round += 1) {
    const points = Array.from({ length: 8 }, (_, index) => {
      const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
      const sourceS = index * 300;
      return { sourceS, sessionS: 20 + sourceS * 1.005 + 0.3 * normal, sdS: 0.05 };
    });
    const { driftPpm, driftUncertaintyPpm } = solveClock(points, AS_STATED);
    if (Math.abs(driftPpm - 5000) <= (driftUncertaintyPpm ?? 0)) held += 1;
  }
  // Binomial, 2000 draws at 0.95: three standard deviations are 0.015.
  expect(Math.abs(held / rounds - 0.95)).toBeLessThan(0.015);
});

test('shifting both clocks by an hour moves the offset by the drift of that hour alone', () => {
  const points: TiePoint[] = [
    [0, 5.1],
    [1000, 1007],
    [2000, 2008.9],
    [3000, 3011.1],
  ];
  const plain = tied(points);
  const shifted = tied(points.map(([sourceS, sessionS]) => [sourceS + 3600, sessionS + 3600]));
  expect(shifted.driftPpm).toBeCloseTo(plain.driftPpm, 6);
  expect(toSessionSeconds(shifted, 4600)).toBeCloseTo(toSessionSeconds(plain, 1000) + 3600, 9);
});

test('every tie point is listed with its residual before and after, and the clock without it', () => {
  const { evidence } = tied([
    [0, 5.1],
    [1000, 1007],
    [2000, 2008.9],
  ]);
  expect(evidence?.ties.map(({ residualBeforeS }) => residualBeforeS?.toFixed(1))).toEqual([
    '5.1',
    '7.0',
    '8.9',
  ]);
  expect(
    evidence?.ties.every(({ residualS, used }) => used && Math.abs(residualS ?? 1) < 1e-9),
  ).toBe(true);
  // By hand: without the first the line through the other two leaves 5.1 s at 0.
  expect(evidence?.ties[0]?.without?.offsetS).toBeCloseTo(5.1, 9);
  expect(evidence?.residualBeforeRmsS).toBeCloseTo(Math.sqrt((5.1 ** 2 + 49 + 8.9 ** 2) / 3), 9);
});
