/** Stretches beyond a value, against crossings worked out by hand and a brute-force walk. */
import { expect, test } from 'vitest';
import { seekStretches, slopes } from '@/lib/core/series/seek-stretches';
import { seededRandom } from '../../support/seeded-random';

const ABOVE = { of: 'value', sense: 'above', limit: 1, leastS: 0 } as const;

function seek(
  points: readonly (readonly [number, number])[],
  condition: Parameters<typeof seekStretches>[0] = ABOVE,
  stepS: number | null = 1,
) {
  const seeker = seekStretches(condition, stepS);
  seeker.feed({
    tS: Float64Array.from(points, ([tS]) => tS),
    values: Float64Array.from(points, ([, value]) => value),
  });
  return seeker.finish();
}

test('a stretch runs from crossing to crossing and names its worst', () => {
  // Linear by hand: 0 to 2 crosses 1 half-way, 3 to 0 crosses 1 after two thirds.
  const found = seek([
    [0, 0],
    [1, 2],
    [2, 3],
    [3, 0],
  ]);
  expect(found).toEqual([{ fromS: 0.5, toS: expect.closeTo(2 + 2 / 3, 12), worst: 3, worstS: 2 }]);
});

test('below is above, mirrored; what is too short is not told', () => {
  const points = [0, 5, 0, 5, 5, 5, 0].map((value, index) => [index, value] as const);
  const above = seek(points, { ...ABOVE, leastS: 2 });
  expect(above).toHaveLength(1);
  const mirrored = points.map(([tS, value]) => [tS, -value] as const);
  const below = seek(mirrored, { of: 'value', sense: 'below', limit: -1, leastS: 2 });
  expect(below.map(({ fromS, toS }) => [fromS, toS])).toEqual(
    above.map(({ fromS, toS }) => [fromS, toS]),
  );
});

test('a gap parts a stretch, and its time does not count', () => {
  const found = seek([
    [0, 2],
    [1, 2],
    [20, 2],
    [21, 2],
  ]);
  expect(found.map(({ fromS, toS }) => [fromS, toS])).toEqual([
    [0, 1],
    [20, 21],
  ]);
});

test('in pieces or at once, the same is found; a fine walk along the lines agrees', () => {
  const random = seededRandom(5);
  const tS = Float64Array.from({ length: 400 }, (_, index) => index * 0.1);
  const values = Float64Array.from(tS, (at) => Math.sin(at) + 0.4 * (random() - 0.5));
  const condition = { of: 'value', sense: 'above', limit: 0.6, leastS: 0.25 } as const;
  const whole = seekStretches(condition, 0.1);
  whole.feed({ tS, values });
  const pieces = seekStretches(condition, 0.1);
  for (let at = 0; at < 400; at += 7)
    pieces.feed({ tS: tS.slice(at, at + 7), values: values.slice(at, at + 7) });
  const found = whole.finish();
  expect(pieces.finish()).toEqual(found);
  expect(found.length).toBeGreaterThan(4);
  const isIn = (at: number) => found.some((each) => at >= each.fromS && at <= each.toS);
  let inside = 0;
  for (let fine = 0; fine < 7_980; fine += 1) {
    const row = Math.floor(fine / 20);
    const share = (fine % 20) / 20;
    const value = (values[row] ?? 0) * (1 - share) + (values[row + 1] ?? 0) * share;
    const at = (row + share) * 0.1;
    // Every told instant is beyond; what is beyond and not told belongs to a stretch too short.
    if (isIn(at)) {
      expect(value).toBeGreaterThan(0.6 - 1e-9);
      inside += 1;
    }
  }
  const toldS = found.reduce((sum, { fromS, toS }) => sum + toS - fromS, 0);
  expect(inside * 0.005).toBeCloseTo(toldS, 0);
});

test('the slope of a straight line is its own, with uneven samples and absent ones', () => {
  const random = seededRandom(9);
  const tS = Float64Array.from({ length: 100 }, (_, index) => index * 0.1 + 0.03 * random());
  const values = Float64Array.from(tS, (at, index) =>
    index % 9 === 4 ? Number.NaN : 3 - 0.3 * at,
  );
  const found = slopes({ tS, values });
  found.forEach((slope, index) => {
    if (index % 9 === 4) expect(slope).toBeNaN();
    else expect(slope).toBeCloseTo(-0.3, 9);
  });
  expect(slopes({ tS: Float64Array.of(0, 5), values: Float64Array.of(1, 2) })[0]).toBeNaN();
});
