import { expect, test } from 'vitest';
import type { TiePoint } from '@/lib/core/clock/fit-line';
import { resolveClock } from '@/lib/core/clock/resolve-clock';

const GIVEN = { kind: 'given', offsetS: 4, driftPpm: 0 } as const;

const hand = (points: readonly TiePoint[], sdS = 0.2) =>
  points.map(([sourceS, sessionS]) => ({ sourceS, sessionS, sdS }));

/**
 * Weighted least squares worked by hand. Weights 100, 25, 100; mean time 1000 s, mean offset
 * 420/225 s; spread 2e8, product 1.8e5, so the drift is 900 ppm and the offset 420/225 - 0.9 s.
 * Residuals over variance sum to 2 on one degree of freedom: errors are widened by the root of 2.
 */
test('each point set by hand is weighed by its standard deviation', () => {
  const clock = resolveClock(GIVEN, [
    { sourceS: 0, sessionS: 1, sdS: 0.1 },
    { sourceS: 1000, sessionS: 1001.6, sdS: 0.2 },
    { sourceS: 2000, sessionS: 2002.8, sdS: 0.1 },
  ]);
  expect(clock.driftPpm).toBeCloseTo(900, 8);
  expect(clock.offsetS).toBeCloseTo(420 / 225 - 0.9, 12);
  expect(clock.driftUncertaintyPpm).toBeCloseTo(1.959964 * 100, 3);
  expect(clock.offsetUncertaintyS).toBeCloseTo(1.959964 * Math.sqrt(2 * (1 / 225 + 1 / 200)), 6);
  expect(clock.evidence?.ties.map(({ sdS, weight }) => [sdS, weight])).toEqual([
    [0.1, expect.closeTo(100 / 225, 12)],
    [0.2, expect.closeTo(25 / 225, 12)],
    [0.1, expect.closeTo(100 / 225, 12)],
  ]);
});

test('one point set by hand moves the offset, as well as it is placed', () => {
  const clock = resolveClock(GIVEN, hand([[0, 7]], 0.3));
  expect(clock).toMatchObject({ offsetS: 7, driftPpm: 0, used: 1, residualRmsS: null });
  expect(clock.offsetUncertaintyS).toBeCloseTo(1.959964 * 0.3, 6);
  expect(clock.reason).toBe('one tie point gives an offset only');
});

test('two points close together give the mean offset and no drift, with the reason', () => {
  const clock = resolveClock(
    GIVEN,
    hand([
      [100, 105],
      [110, 115.6],
    ]),
  );
  expect(clock).toMatchObject({ driftPpm: 0, driftUncertaintyPpm: null, used: 2 });
  expect(clock.offsetS).toBeCloseTo(5.3, 12);
  expect(clock.reason).toContain('too close together to tell a drift');
  // By hand: they differ by 0.6 s, 1.5 times as much as two points of 0.2 s should.
  const widened = 0.6 / Math.SQRT2 / 0.2;
  const halfS = 1.959964 * Math.hypot((0.2 / Math.SQRT2) * widened, 105 * 300e-6);
  expect(clock.offsetUncertaintyS).toBeCloseTo(halfS, 3);
});

test('a drift under twice its standard error is 0 with the reason, though the points lie far apart', () => {
  const clock = resolveClock(
    GIVEN,
    hand([
      [0, 5],
      [1000, 1005.4],
    ]),
  );
  expect(clock).toMatchObject({ driftPpm: 0, offsetS: expect.closeTo(5.2, 12) });
  expect(clock.reason).toContain('400 ppm is under twice its standard error of 283 ppm');
});

test('stated tie points stay exact where well apart, and give an offset where they are not', () => {
  const tied = (points: readonly TiePoint[]) => resolveClock({ kind: 'tie-points', points }, []);
  const apart = tied([
    [100, 105],
    [200, 205.02],
  ]);
  expect(apart.driftPpm).toBeCloseTo(200, 6);
  const close = tied([
    [100, 105],
    [110, 115.2],
  ]);
  expect(close).toMatchObject({ driftPpm: 0, offsetS: expect.closeTo(5.1, 12) });
  expect(close.reason).toContain('too close together');
});

test('a stated drift stands where points set by hand tell none', () => {
  const given = { kind: 'given', offsetS: 30, driftPpm: 500 } as const;
  const one = resolveClock(given, hand([[1000, 1004]]));
  expect(one).toMatchObject({ offsetS: expect.closeTo(3.5, 12), driftPpm: 500, used: 1 });
  expect(one.reason).toContain('left as stated, 500 ppm');
  const two = resolveClock(
    given,
    hand([
      [0, 3],
      [1000, 1003.6],
    ]),
  );
  expect(two).toMatchObject({ driftPpm: 500, offsetS: expect.closeTo(3.05, 12) });
  expect(two.reason).toContain('left as stated');
  const other = resolveClock(
    given,
    hand([
      [0, 3],
      [1000, 1005],
    ]),
  );
  expect(other.driftPpm).toBeCloseTo(2000, 6);
});

test('points set by hand that no clock runs by are left out, and it is said', () => {
  const backwards = resolveClock(
    GIVEN,
    hand([
      [100, 2000],
      [2000, 100],
    ]),
  );
  expect(backwards).toMatchObject({ offsetS: 4, driftPpm: 0, used: 0, rejected: 2 });
  expect(backwards.reason).toContain('left out');
});

test('points set by hand join those of the session file, and take the place of a given offset', () => {
  const points: TiePoint[] = [
    [0, 5],
    [1000, 1005],
  ];
  const joined = resolveClock({ kind: 'tie-points', points }, hand([[2000, 2005]]));
  expect(joined).toMatchObject({ used: 3, offsetS: 5 });
  expect(joined.evidence?.ties.map(({ kind }) => kind)).toEqual(['stated', 'stated', 'hand']);
  expect(resolveClock(GIVEN, hand([[100, 109]]))).toMatchObject({ offsetS: 9, used: 1 });
});
