import { expect, test } from 'vitest';
import { estimateMotion } from '@/lib/core/motion/estimate-motion';
import { steadyRates } from '@/lib/core/motion/steady-rates';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const STARTS_S = 240;
const RATE_MPS = 0.07;
const NOISE_M = 0.25;

/** A hold at 30 m, then an approach at 0.07 m/s that is reached at once, to 1.4 m; swaying by 5 cm; a row a second. */
function approach(seed: number) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: STARTS_S + 400 }, (_, k) => k);
  const swayM = tS.map((t) => 0.05 * Math.sin((2 * Math.PI * t) / 200));
  const noisy = (value: number): number => value + NOISE_M * gaussian(random);
  const column = (name: string, values: Float64Array) =>
    [`position.${name}`, { name, values: values.map(noisy), rejected: null }] as const;
  const columns = new Map([
    column(
      'x',
      tS.map((t) => 30 - RATE_MPS * Math.max(0, t - STARTS_S)),
    ),
    column('y', swayM),
    column('z', new Float64Array(tS.length)),
  ]);
  const motion = estimateMotion({
    ...{ tS, columns, longestStepS: 5, stepS: 1, holdRateMps: 0.02, accelerationMps2: 0.01 },
  });
  if (motion === null) throw new Error('no motion');
  return motion;
}

const rms = (values: Float64Array, want: (row: number) => number): number => {
  const rows = Array.from({ length: 300 }, (_, k) => STARTS_S + 60 + k);
  const squares = rows.map((row) => ((values[row] ?? Number.NaN) - want(row)) ** 2);
  return Math.sqrt(squares.reduce((a, b) => a + b) / rows.length);
};

/**
 * Closed form of the flown motion. Lines are as long as tells a rate to 0.004 m/s (a fifth of the hold rate); through 400
 * rows a straight line tells it to 8e-5 m/s.
 */
test('an even rate has less noise by all positions of a step than by lines over a part of them', () => {
  const motion = approach(3);
  const within = { fromS: STARTS_S + 2, toS: STARTS_S + 399 };
  const steady = steadyRates(motion, within);
  if (steady === null) throw new Error('nothing steadied');
  expect(rms(motion.axialClosingMps, () => RATE_MPS)).toBeGreaterThan(0.0015);
  expect(rms(steady.axialClosingMps, () => RATE_MPS)).toBeLessThan(0.0006);
  expect(rms(steady.closingMps, () => RATE_MPS)).toBeLessThan(0.0008);
  expect(steady.axialClosingSdMps[STARTS_S + 200]).toBeLessThan(0.001);
});

test('outside the step all stays as lines tell it', () => {
  const motion = approach(4);
  const steady = steadyRates(motion, { fromS: 300, toS: 500 });
  const before = (column: Float64Array | undefined) => Array.from(column?.subarray(0, 299) ?? []);
  expect(before(steady?.closingMps)).toEqual(before(motion.closingMps));
  expect(before(steady?.axialClosingMps)).toEqual(before(motion.axialClosingMps));
});

test('a rate that is measured, or told by clean positions, has nothing to steady', () => {
  const tS = Float64Array.from({ length: 300 }, (_, k) => k);
  const values = tS.map((t) => 100 - 0.25 * t);
  const columns = new Map([['range', { name: 'range', values, rejected: null }]]);
  const motion = estimateMotion({
    ...{ tS, columns, longestStepS: 5, stepS: 1, holdRateMps: 0.02, accelerationMps2: 0.01 },
  });
  expect(motion?.between).toBeNull();
  expect(motion === null || steadyRates(motion, { fromS: 0, toS: 300 })).toBeNull();
});
