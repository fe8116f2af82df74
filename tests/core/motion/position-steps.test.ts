import { expect, test } from 'vitest';
import { findPositionSteps } from '@/lib/core/motion/position-steps';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const STEP_S = 0.2;
const ROWS = 600;

/** Two minutes of rows; the offset steps by `sizeM` half way, the velocity by `swingMps`. */
function stretch(sizeM: number, swingMps: number) {
  const half = ROWS / 2;
  const column = (at: (row: number) => number) =>
    Float64Array.from({ length: ROWS }, (_, row) => at(row));
  return {
    tS: column((row) => row * STEP_S),
    // A small regular ripple stands for the noise, so that the fit has something to weigh.
    offsetM: column((row) => (row >= half ? sizeM : 0) + 0.002 * (row % 2 === 0 ? 1 : -1)),
    sdM: column(() => 0.002),
    velocityMps: column((row) => (row >= half ? swingMps : 0)),
    walkM2PerS: 0,
  };
}

test('a step in position at steady velocity is found with its size', () => {
  const steps = findPositionSteps(stretch(0.5, 0));
  expect(steps).toHaveLength(1);
  expect(steps[0]?.sizeM).toBeCloseTo(0.5, 2);
  expect(steps[0]?.row).toBe(ROWS / 2);
});

test('an offset no larger than a swing of the velocity explains is no step', () => {
  expect(findPositionSteps(stretch(0.02, 0.08))).toEqual([]);
  expect(findPositionSteps(stretch(0.02, 0.001))).toHaveLength(1);
});

// Between two rows a rate that jets swing by 8 mm/s carries up to that times their distance: elementary.
test('an offset that jets between two rows explain is no step', () => {
  const still = stretch(0, 0);
  const tS = still.tS.map((atS, row) => (row >= ROWS / 2 ? atS + 0.2 : atS));
  const exact = { tS, sdM: new Float64Array(ROWS).fill(1e-7) };
  const asMeasuredMps = tS.map((_, row) => (row % 2 === 0 ? 0.004 : -0.004));
  const by = (sizeM: number) =>
    tS.map((_, row) => (row >= ROWS / 2 ? sizeM : 0) + 1e-7 * (row % 2 === 0 ? 1 : -1));
  const found = (sizeM: number, updateS = 0) =>
    findPositionSteps({ ...still, ...exact, offsetM: by(sizeM), asMeasuredMps, updateS });
  expect(found(0.0015)).toEqual([]);
  expect(found(0.01)).toHaveLength(1);
  // Where rows repeat a velocity for 2 s, as far as 0.016 m.
  expect(found(0.01, 2)).toEqual([]);
});

test('numbers without noise have no steps of their last digit', () => {
  const bare = (sizeM: number) => {
    const rows = stretch(sizeM, 0);
    return { ...rows, offsetM: rows.offsetM.map((_, row) => (row >= ROWS / 2 ? sizeM : 0)) };
  };
  const exact = (sizeM: number) => ({ ...bare(sizeM), sdM: new Float64Array(ROWS).fill(1e-15) });
  expect(findPositionSteps(exact(1e-12))).toEqual([]);
  expect(findPositionSteps(exact(0.5))).toHaveLength(1);
});

/** An offset with white noise, steps and a way that its velocity's noise makes wander. */
function noisy(
  { rows, stepS, seed }: Readonly<{ rows: number; stepS: number; seed: number }>,
  steps: readonly Readonly<{ atS: number; sizeM: number }>[],
  { whiteM, velocityMps, accelMps2 = 0 }: Readonly<Record<string, number>>,
) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: rows }, (_, row) => row * stepS);
  let wayM = 0;
  const offsetM = tS.map((atS) => {
    wayM += (velocityMps ?? 0) * stepS * gaussian(random);
    const sizeM = steps.reduce((sum, step) => sum + (atS >= step.atS ? step.sizeM : 0), 0);
    return sizeM + wayM + (whiteM ?? 0) * gaussian(random);
  });
  return {
    tS,
    offsetM,
    sdM: new Float64Array(rows).fill(whiteM ?? 0),
    velocityMps: tS.map((atS) => accelMps2 * atS),
    walkM2PerS: (velocityMps ?? 0) ** 2 * stepS,
  };
}

test('at 50 Hz the wandering way of a noisy velocity is no step, stated or not, and 0.1 m is', () => {
  for (const seed of [1, 2, 3]) {
    const rows = { rows: 9000, stepS: 0.02, seed };
    const noise = { whiteM: 0.01, velocityMps: 0.01 };
    const wandering = noisy(rows, [], noise);
    expect(findPositionSteps(wandering)).toEqual([]);
    expect(findPositionSteps({ ...wandering, walkM2PerS: 0 })).toEqual([]);
    const [step, ...more] = findPositionSteps(noisy(rows, [{ atS: 90.01, sizeM: 0.1 }], noise));
    expect(more).toEqual([]);
    // Four standard errors: one series in 16 000 of an honest interval would fail.
    expect(Math.abs((step?.sizeM ?? 0) - 0.1)).toBeLessThan(4 * (step?.sizeSdM ?? 0));
  }
});

test('ten times the noise is found at 1 Hz 12 s from a gap, 20 s from another step, and in an acceleration', () => {
  const rows = { rows: 240, stepS: 1, seed: 4 };
  const noise = { whiteM: 0.03, velocityMps: 0.002, accelMps2: 0.03 };
  const places = (...at: readonly (readonly [number, number])[]) =>
    findPositionSteps(
      noisy(
        rows,
        at.map(([atS, sizeM]) => ({ atS, sizeM })),
        noise,
      ),
    ).map(({ row }) => row);
  expect(places([227, 0.3])).toEqual([227]);
  expect(places([100, 0.3], [120, 0.3])).toEqual([100, 120]);
  expect(places([100, 0.3], [120, -0.3])).toEqual([100, 120]);
});

test('a velocity that lags by a second makes no step of an acceleration', () => {
  const rows = noisy({ rows: 4000, stepS: 0.1, seed: 3 }, [], { whiteM: 0.02 });
  // 0.2 m/s reached at 0.04 m/s2 from 60 s on: the lag leaves 0.2 m of the way, over 5 s.
  const velocityMps = rows.tS.map((atS) => Math.min(0.2, Math.max(0, 0.04 * (atS - 60))));
  const offsetM = rows.offsetM.map((noiseM, row) => noiseM + (velocityMps[row] ?? 0));
  expect(findPositionSteps({ ...rows, offsetM, velocityMps })).toEqual([]);
});

test('among 200 000 rows, looked over in means first, a step of 15 standard errors stands at its place', () => {
  const asked = { rows: 200_000, stepS: 0.001, seed: 5 };
  // Lines over 20 s of 1 kHz carried to their edge: 0.02 m sqrt(2 x 4 / 20 000) = 0.0004 m (elementary).
  const [step, ...more] = findPositionSteps(
    noisy(asked, [{ atS: 100, sizeM: 0.006 }], { whiteM: 0.02 }),
  );
  expect(more).toEqual([]);
  expect(Math.abs((step?.sizeM ?? 0) - 0.006)).toBeLessThan(0.0016);
  expect(Math.abs((step?.row ?? 0) - 100_000)).toBeLessThan(1000);
  expect(findPositionSteps(noisy(asked, [], { whiteM: 0.02 }))).toEqual([]);
});

/**
 * By reasoning: a velocity that is off by 3 mm/s, with a correlation time of 20 s, bends the offset by centimetres in
 * 10 s and steps nowhere. From 250 m in, white noise of 0.5 mm a metre hides that; over the last metres it does not.
 */
test('a velocity whose error wanders slowly makes no step where the position becomes exact', () => {
  for (let seed = 1; seed <= 10; seed++) {
    const random = seededRandom(seed);
    const stepS = 0.2;
    const kept = Math.exp(-stepS / 20);
    let errorMps = 0.003 * gaussian(random);
    let wayM = 0;
    const tS = Float64Array.from({ length: 7500 }, (_, row) => row * stepS);
    const sdM = tS.map((atS) => Math.max(0.003, 0.0005 * (250 - atS / 6)));
    const offsetM = sdM.map((sd) => {
      errorMps = kept * errorMps + 0.003 * Math.sqrt(1 - kept ** 2) * gaussian(random);
      wayM -= errorMps * stepS;
      return wayM + sd * gaussian(random);
    });
    const still = { tS, offsetM, sdM, velocityMps: tS.map(() => 0.17), walkM2PerS: 0 };
    expect(findPositionSteps(still)).toEqual([]);
    const jumped = offsetM.map((m, row) => m + (row >= 6500 ? 0.25 : 0));
    const [step, ...more] = findPositionSteps({ ...still, offsetM: jumped });
    expect(more).toEqual([]);
    expect(Math.abs((step?.row ?? 0) - 6500)).toBeLessThan(3);
  }
});
