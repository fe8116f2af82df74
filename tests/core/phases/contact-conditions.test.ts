import { expect, test } from 'vitest';
import { lastAxialRate, lastLevel, lastRate } from '@/lib/core/phases/contact-conditions';
import { takeSamples } from '@/lib/core/series/samples';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/** An axis that comes in at 0.07 m/s for two minutes, once a second with 30 mm of noise; contact at 0 s. */
function steady(seed: number) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: 120 }, (_, index) => index - 119.5);
  return takeSamples(
    tS,
    tS.map((s) => 0.02 - 0.07 * s + 0.03 * gaussian(random)),
    null,
  );
}

test('without velocity a steady last minute gives rate and place, not the last second alone', () => {
  // One second of samples tells the place to 21 mm, six seconds the rate to 7.2 mm/s (1 sd, elementary).
  let [rate, place, heldRate, heldPlace] = [0, 0, 0, 0];
  for (let seed = 1; seed <= 40; seed++) {
    const [found, level] = [lastRate(steady(seed), 0), lastLevel(steady(seed), 0)];
    const rateError = (found?.value ?? Number.NaN) + 0.07;
    // Half a second before the last sample, which is half a second before contact.
    const placeError = (level?.value ?? Number.NaN) - (0.02 + 0.07);
    rate += rateError ** 2 / 40;
    place += placeError ** 2 / 40;
    if (Math.abs(rateError) < (found?.half ?? 0)) heldRate++;
    if (Math.abs(placeError) < (level?.half ?? 0)) heldPlace++;
  }
  expect(Math.sqrt(rate)).toBeLessThan(0.003);
  expect(Math.sqrt(place)).toBeLessThan(0.016);
  expect(heldRate).toBeGreaterThanOrEqual(36);
  expect(heldPlace).toBeGreaterThanOrEqual(36);
});

/** As `steady`, for six minutes, and swinging by 20 mm over a hundred seconds. */
function swinging(seed: number) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: 360 }, (_, index) => index - 359.5);
  return takeSamples(
    tS,
    tS.map((s) => -0.07 * s + 0.02 * Math.sin((s * 2 * Math.PI) / 100) + 0.03 * gaussian(random)),
    null,
  );
}

test('how much a rate has wandered before says how much it wanders at the end', () => {
  // The swing is at its fastest there: 1.26 mm/s. A line over the last minute tells a rate to 0.24 mm/s (1 sd).
  let [held, heldSteady] = [0, 0];
  const halves: number[] = [];
  for (let seed = 1; seed <= 40; seed++) {
    const found = lastRate(swinging(seed), 0);
    if (
      Math.abs((found?.value ?? Number.NaN) + 0.07 - 0.02 * ((2 * Math.PI) / 100)) <
      (found?.half ?? 0)
    )
      held++;
    const calm = takeSamples(
      swinging(seed).tS,
      swinging(seed).values.map(
        (value, k) => value - 0.02 * Math.sin(((k - 359.5) * 2 * Math.PI) / 100),
      ),
      null,
    );
    const known = lastAxialRate(calm, 0);
    halves.push(known?.half ?? Number.NaN);
    if (Math.abs((known?.value ?? Number.NaN) + 0.07) < (known?.half ?? 0)) heldSteady++;
  }
  expect(held).toBeGreaterThanOrEqual(37);
  expect(heldSteady).toBeGreaterThanOrEqual(37);
  expect(halves.sort((a, b) => a - b)[20]).toBeLessThan(0.0005);
});

/** At rest, then to 0.07 m/s over 20 s by `endS`, once a second with 30 mm of noise. */
function started(seed: number, endS: number) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: 300 }, (_, index) => index - 299.5);
  const trueM = (s: number): number => {
    const rampS = Math.min(20, Math.max(0, s - endS + 20));
    return -0.07 * (rampS ** 2 / 40 + Math.max(0, s - endS));
  };
  return takeSamples(
    tS,
    tS.map((s) => trueM(s) + 0.03 * gaussian(random)),
    null,
  );
}

test('a manoeuvre between calm and calm leaves the data after it to tell the rate, one just over its end', () => {
  // By least squares 20 values tell a rate to 1.2 mm/s (1 sd): 0.03 (12 / (20 x 399))^1/2.
  for (const [endS, most] of [
    [-20, 0.005],
    [-35, 0.003],
    [-3, 0.04],
  ] as const) {
    let held = 0;
    const halves: number[] = [];
    for (let seed = 1; seed <= 40; seed++) {
      const found = lastRate(started(seed, endS), 0);
      halves.push(found?.half ?? Number.NaN);
      if (Math.abs((found?.value ?? Number.NaN) + 0.07) < (found?.half ?? 0)) held++;
    }
    expect(held, `${endS} s`).toBeGreaterThanOrEqual(36);
    expect(halves.sort((a, b) => a - b)[20], `${endS} s`).toBeLessThan(most);
  }
});
