import { describe, expect, test } from 'vitest';
import {
  instantMargin,
  type MarginLine,
  persistentMargin,
  stretchesBeyond,
} from '@/lib/core/rules/margins';
import { expectWithin } from '../../support/expect-within';
import { seededRandom } from '../../support/seeded-random';

function lineOf(points: readonly (readonly [number, number])[]): MarginLine {
  return {
    tS: Float64Array.from(points, ([atS]) => atS),
    room: Float64Array.from(points, ([, room]) => room),
    pieces: [{ from: 0, to: points.length }],
  };
}

function roomAt(line: MarginLine, atS: number): number {
  const { tS, room } = line;
  for (let i = 1; i < tS.length; i++) {
    const t0 = tS[i - 1] ?? 0;
    const t1 = tS[i] ?? 0;
    if (atS <= t1) {
      const share = (atS - t0) / (t1 - t0);
      return (room[i - 1] ?? 0) + share * ((room[i] ?? 0) - (room[i - 1] ?? 0));
    }
  }
  return room[room.length - 1] ?? Number.NaN;
}

/** The definition, over a fine raster: min over t of max over [t, t + persists]. */
function bruteForce(line: MarginLine, persistsS: number, rasterS: number): number {
  const first = line.tS[0] ?? 0;
  const last = line.tS[line.tS.length - 1] ?? 0;
  let best = Number.POSITIVE_INFINITY;
  for (let at = first; at + persistsS <= last + 1e-9; at += rasterS) {
    let most = Number.NEGATIVE_INFINITY;
    for (let u = at; u <= at + persistsS + 1e-9; u += rasterS) {
      most = Math.max(most, roomAt(line, Math.min(u, last)));
    }
    for (let i = 0; i < line.tS.length; i++) {
      const t = line.tS[i] ?? 0;
      if (t >= at && t <= at + persistsS) most = Math.max(most, line.room[i] ?? 0);
    }
    best = Math.min(best, most);
  }
  return best;
}

describe('margin of "never beyond the limit for a time"', () => {
  test('agrees with the definition by brute force on 100 small random signals', () => {
    const random = seededRandom(71);
    for (let trial = 0; trial < 100; trial++) {
      const count = 2 + Math.floor(random() * 12);
      let atS = 0;
      const line = lineOf(
        Array.from({ length: count }, () => {
          atS += 0.1 + random();
          return [atS, 2 * random() - 1] as const;
        }),
      );
      const durationS = atS - (line.tS[0] ?? 0);
      const persistsS = random() * durationS;
      const raster = durationS / 600;
      const margin = persistentMargin(line, persistsS);
      // Slopes stay below 2 / 0.1 per second, so the raster is off by no more than that.
      expectWithin(margin?.value, bruteForce(line, persistsS, raster), 40 * raster, 'raster');
    }
  });

  test('a dip shorter than the persistence leaves room, a longer one does not', () => {
    const dip = lineOf([
      [0, 1],
      [9, 1],
      [10, -1],
      [11, 1],
      [20, 1],
    ]);
    expect(persistentMargin(dip, 0.5)?.value).toBeCloseTo(-0.5, 12);
    expect(persistentMargin(dip, 1)?.value).toBeCloseTo(0, 12);
    expect(persistentMargin(dip, 1.5)?.value).toBeCloseTo(0.5, 12);
    expect(persistentMargin(dip, 2)?.value).toBeCloseTo(1, 12);
    expect(persistentMargin(dip, 3)?.value).toBe(1);
  });

  test('without persistence it is the smallest room', () => {
    const random = seededRandom(5);
    const line = lineOf(Array.from({ length: 50 }, (_, i) => [i, random()] as const));
    expect(persistentMargin(line, 0)?.value).toBe(Math.min(...line.room));
    expect(instantMargin(line)?.value).toBe(Math.min(...line.room));
  });

  test('persistence does not run through the gap between two pieces', () => {
    const line: MarginLine = {
      tS: Float64Array.from([0, 1, 2, 3]),
      room: Float64Array.from([-1, -1, -1, -1]),
      pieces: [
        { from: 0, to: 2 },
        { from: 2, to: 4 },
      ],
    };
    expect(persistentMargin(line, 1)?.value).toBe(-1);
    expect(persistentMargin(line, 1.5)).toBeNull();
    expect(stretchesBeyond(line, 0)).toHaveLength(2);
    expect(stretchesBeyond(line, 1.5)).toHaveLength(0);
  });

  test('a margin below zero and a stretch that lasts long enough come together', () => {
    const random = seededRandom(9);
    for (let trial = 0; trial < 200; trial++) {
      const line = lineOf(Array.from({ length: 20 }, (_, i) => [i, random() - 0.3] as const));
      const persistsS = 3 * random();
      const margin = persistentMargin(line, persistsS)?.value ?? 0;
      expect(stretchesBeyond(line, persistsS).length > 0).toBe(margin < 0);
    }
  });
});

describe('stretches beyond the limit', () => {
  test('edges are interpolated, the worst is the lowest point', () => {
    const found = stretchesBeyond(
      lineOf([
        [0, 1],
        [2, -1],
        [3, -3],
        [5, 1],
      ]),
      0,
    );
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ startS: 1, endS: 4.5, worstS: 3, worstRoom: -3 });
  });

  test('one that reaches the last point ends there', () => {
    const found = stretchesBeyond(
      lineOf([
        [0, 1],
        [2, -1],
        [9, -1],
      ]),
      2,
    );
    expect(found[0]).toMatchObject({ startS: 1, endS: 9 });
  });
});
