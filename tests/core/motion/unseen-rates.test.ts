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
  const unseen = unseenRates({ ...white, slowSd, slowS: 20 }, motion);
  const shown = unseen?.[1000] ?? Number.NaN;
  // Solved for the height by hand from what is shown of it: h - 1.5 h2 / a / 60.
  const a = motion.accelerationMps2;
  const c = 1.5 / a / 60;
  const height = (1 - Math.sqrt(1 - 4 * c * shown)) / (2 * c);
  const areaM = height ** 2 / a;
  const noiseM = 0.1 * Math.sqrt(2 * (1 - Math.exp(-(2 * height) / a / 20)));
  expect(Math.abs(areaM / (5 * noiseM) - 1)).toBeLessThan(1e-3);
});

test('there is none with white noise, and none without a plan', () => {
  expect(unseenRates(white, motion)).toBeNull();
  const slow = { ...white, slowSd: tS.map(() => 0.1), slowS: 20 };
  expect(unseenRates(slow, { ...motion, accelerationMps2: null })).toBeNull();
});
