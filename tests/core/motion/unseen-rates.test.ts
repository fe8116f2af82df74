import { expect, test } from 'vitest';
import { unseenRates } from '@/lib/core/motion/unseen-rates';
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
  const shown = unseen?.[1000] ?? Number.NaN;
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
  const unseen = unseenRates({ ...white, sd }, motion, [])?.[1000] ?? Number.NaN;
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
  expect([990, 1000, 1010].map((row) => (unseen?.[row] ?? 0) > 0)).toEqual([true, false, true]);
});

test('there is none without a plan', () => {
  expect(unseenRates(white, { ...motion, accelerationMps2: null }, [])).toBeNull();
});
