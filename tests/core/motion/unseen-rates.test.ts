import { expect, test } from 'vitest';
import { jumpHeld, unseenRates } from '@/lib/core/motion/unseen-rates';
import { takeSamples } from '@/lib/core/series/samples';

const tS = Float64Array.from({ length: 2000 }, (_, k) => 0.2 * k);
const white = takeSamples(
  tS,
  tS.map((atS) => 50 - 0.1 * atS),
  null,
);
const motion = {
  tS,
  columns: new Map(),
  longestStepS: 1,
  stepS: 0.2,
  holdRateMps: 0.02,
  accelerationMps2: 0.01,
};

test('a height that slow noise hides goes up and back at the acceleration over five deviations of way', () => {
  const slowSd = tS.map(() => 0.1);
  const unseen = unseenRates({ ...white, slowSd, slowS: 20 }, motion, []);
  const shown = unseen?.slopedMps[1000] ?? Number.NaN;
  // Solved for the height by hand from what is shown of it: h - 1.5 h2 / a / 60.
  const a = motion.accelerationMps2;
  const c = 1.5 / a / 60;
  const height = (1 - Math.sqrt(1 - 4 * c * shown)) / (2 * c);
  const areaM = height ** 2 / a;
  const noiseM = 0.1 * Math.sqrt(2 * (1 - Math.exp(-(2 * height) / a / 20)));
  expect(Math.abs(areaM / (5 * noiseM) - 1)).toBeLessThan(1e-3);
});

test('white noise of one sample hides the height of five deviations of the area beside it', () => {
  const sd = tS.map(() => 0.1);
  const unseen = unseenRates({ ...white, sd }, motion, [])?.slopedMps[1000] ?? Number.NaN;
  const a = motion.accelerationMps2;
  const c = 1.5 / a / 60;
  const height = (1 - Math.sqrt(1 - 4 * c * unseen)) / (2 * c);
  // Least squares of a line, a ramp and a rectangle of 2 to 6 s over 34 s to either side: the rectangle's
  // area stands 25 squares above the best ramp from 2.7 to 3.0 of sd (step)^1/2 on.
  const areaM = height ** 2 / a / (0.1 * Math.sqrt(white.stepS));
  expect(areaM).toBeGreaterThan(2.6);
  expect(areaM).toBeLessThan(3);
});

test('where an excursion is seen nothing is hidden on top of it', () => {
  const sd = tS.map(() => 0.1);
  const unseen = unseenRates({ ...white, sd }, motion, [{ fromS: 199, toS: 201 }]);
  expect([990, 1000, 1010].map((row) => (unseen?.slopedMps[row] ?? 0) > 0)).toEqual([
    true,
    false,
    true,
  ]);
  expect(unseen?.jumpMps).toBeNull();
});

test('there is none without a plan', () => {
  expect(unseenRates(white, { ...motion, accelerationMps2: null }, [])).toBeNull();
});

/**
 * By hand: of 0.1 m, sampled each 0.2 s, white noise leaves the way of an excursion known to (0.31 x 0.2 s)^1/2 of it, 0.0249 m;
 * as much slow noise moves it by 0.1 (2 (1 - exp(-3 / 20)))^1/2, 0.0528 m, as well. Five of both are the way of a jump taken
 * back over 6 s, 3 s times its height; a fortieth of the way is shown by lines over 60 s.
 */
test.each([
  { slowM: 0, knownM: 0.0249 },
  { slowM: 0.1, knownM: 0.0583 },
])(
  'a jump hides whose way is five times what noise is, slow noise $slowM m',
  ({ slowM, knownM }) => {
    const slow = slowM > 0 ? { slowSd: tS.map(() => slowM), slowS: 20 } : {};
    const unseen = unseenRates({ ...white, ...slow, sd: tS.map(() => 0.1) }, motion, []);
    const wayM = 5 * knownM;
    const height = wayM / 3 - wayM / 40;
    expect(Math.abs((unseen?.jumpMps?.[1000] ?? Number.NaN) / height - 1)).toBeLessThan(0.01);
  },
);

test('a jump taken back over 6 s holds for some seconds what is left of it after them', () => {
  expect([0, 1.5, 3].map(jumpHeld)).toEqual([1, 0.75, 0.5]);
  // For longer than 3 s: the same way, taken back over twice as long as it has to hold, is half as high.
  expect(jumpHeld(6)).toBe(0.25);
});
