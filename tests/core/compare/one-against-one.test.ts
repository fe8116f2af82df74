import { describe, expect, test } from 'vitest';
import { lagBetween } from '@/lib/core/compare/lag';
import { shareWithin, type ToleranceKind } from '@/lib/core/compare/tolerance';
import { seededRandom } from '../../support/seeded-random';

const STEP_S = 0.5;
const swing = (lateS: number) =>
  Float64Array.from({ length: 600 }, (_, k) => {
    const atS = k * STEP_S - lateS;
    return Math.sin(atS / 9) + 0.4 * Math.sin(atS / 23 + 1);
  });

describe('lag', () => {
  test.each([0, 3, -7.2, 11.37])('a column that comes %d s later is told so', (lateS) => {
    const { lagS, correlation } = lagBetween(swing(lateS), swing(0), { stepS: STEP_S, reachS: 20 });
    expect(lagS).toBeCloseTo(lateS, 1);
    expect(correlation).toBeGreaterThan(0.98);
  });

  test('size and offset change no lag', () => {
    const scaled = swing(3).map((value) => 1000 + 0.01 * value);
    expect(lagBetween(scaled, swing(0), { stepS: STEP_S, reachS: 20 }).lagS).toBeCloseTo(3, 1);
  });

  test('noise against noise has none, and the reason is said', () => {
    const noise = (seed: number) => {
      const random = seededRandom(seed);
      return Float64Array.from({ length: 600 }, () => random() - 0.5);
    };
    const { lagS, reason } = lagBetween(noise(1), noise(2), { stepS: STEP_S, reachS: 20 });
    expect(lagS).toBeNaN();
    expect(reason).toBe('The two are too unlike to tell a lag.');
  });

  test('a lag beyond reach is not told', () => {
    const ramp = Float64Array.from({ length: 100 }, (_, k) => k ** 2);
    const { lagS } = lagBetween(
      ramp,
      ramp.map((_, k) => (k + 40) ** 2),
      { stepS: 1, reachS: 5 },
    );
    expect(lagS).toBeNaN();
  });
});

describe('share inside a tolerance', () => {
  // By hand: differences 1, 1, 1, 1 at flown values 5, 10, 20, 0.
  const flown = Float64Array.of(5, 10, 20, 0, Number.NaN);
  const simulated = Float64Array.of(6, 9, 21, 1, 1);
  const share = (kind: ToleranceKind, absolute: number) =>
    shareWithin(flown, simulated, { kind, absolute, percent: 10 });

  test('by size, by percentage of the flown value, and by both', () => {
    expect(share('absolute', 1)).toBe(1);
    expect(share('absolute', 0.9)).toBe(0);
    expect(share('percent', 0)).toBe(0.5);
    expect(share('either', 1)).toBe(1);
    expect(share('either', 0.9)).toBe(0.5);
    expect(share('both', 1)).toBe(0.5);
    expect(share('less', 1)).toBe(0.5);
    expect(share('both', 0.9)).toBe(0);
  });

  test('no place with both values is no share', () => {
    expect(
      shareWithin(Float64Array.of(Number.NaN), Float64Array.of(1), {
        kind: 'absolute',
        absolute: 1,
        percent: 0,
      }),
    ).toBeNaN();
  });
});
