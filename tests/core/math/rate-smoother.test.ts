import { expect, test } from 'vitest';
import { smoothRate } from '@/lib/core/math/rate-smoother';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const at = (column: ArrayLike<number> | undefined, i: number): number => column?.[i] ?? Number.NaN;

/** Least squares by the normal equations of a straight line: the rate, and its standard deviation. */
function line(tS: Float64Array, values: Float64Array, sd: number) {
  const n = tS.length;
  const meanS = tS.reduce((a, b) => a + b) / n;
  const spread = tS.reduce((sum, t) => sum + (t - meanS) ** 2, 0);
  const rate = tS.reduce((sum, t, k) => sum + (t - meanS) * at(values, k), 0) / spread;
  return { rate, sd: sd / Math.sqrt(spread) };
}

/** Of a line without noise every amount of wandering says the same, so the closed form of the line is the outcome. */
test('a straight course has the rate of the line through it, surer by all values than by a few', () => {
  const tS = Float64Array.from({ length: 200 }, (_, k) => 2 * k);
  const values = tS.map((t) => 5 - 0.07 * t);
  const none = new Float64Array(200);
  const white = none.map(() => 0.2 ** 2);
  const found = smoothRate({ tS, values, white, slow: none, slowS: 1 });
  for (const k of [0, 7, 100, 199]) {
    expectWithin(at(found?.rate, k), -0.07, 1e-6, 'what is supposed before the first value');
  }
  const whole = line(tS, values, 0.2).sd;
  expect(at(found?.rateSd, 100)).toBeGreaterThan(whole);
  expect(at(found?.rateSd, 100)).toBeLessThan(6 * whole);
});

/** Simulated, so that the truth is known: 95 % of a normal distribution lie within 1.96 of its deviations. */
test.each([
  ['white noise', 0.1, 0],
  ['mostly slow noise', 0.03, 0.05],
])('rates that wander lie inside in %s', (_, whiteSd, slowSd) => {
  const random = seededRandom(11);
  let [inside, all, lineErrors, errors] = [0, 0, 0, 0];
  for (let trial = 0; trial < 60; trial++) {
    const n = 150;
    const tS = Float64Array.from({ length: n }, (_, k) => 2 * k);
    const perS = [0, 1e-8, 1e-6][trial % 3] ?? 0;
    let [level, rate, slow] = [0, 0.05, slowSd * gaussian(random)];
    const rates: number[] = [];
    const values = tS.map(() => {
      rate += Math.sqrt(2 * perS) * gaussian(random);
      level += 2 * rate;
      const keep = Math.exp(-2 / 20);
      slow = keep * slow + slowSd * Math.sqrt(1 - keep * keep) * gaussian(random);
      rates.push(rate);
      return level + slow + whiteSd * gaussian(random);
    });
    const [white, slowly] = [values.map(() => whiteSd ** 2), values.map(() => slowSd ** 2)];
    const found = smoothRate({ tS, values, white, slow: slowly, slowS: 20 });
    for (const k of [3, 40, 75, 110, 146]) {
      const off = at(found?.rate, k) - at(rates, k);
      all += 1;
      if (Math.abs(off) < 1.96 * at(found?.rateSd, k)) inside += 1;
      if (k !== 75) continue;
      errors += off ** 2;
      const near = line(tS.subarray(60, 91), values.subarray(60, 91), whiteSd);
      lineErrors += (near.rate - at(rates, k)) ** 2;
    }
  }
  // Five of a course are not independent: 90 to 99 % of 300.
  expect(inside / all).toBeGreaterThan(0.9);
  expect(inside / all).toBeLessThan(0.995);
  expect(errors).toBeLessThan(0.8 * lineErrors);
});

test('too few values, or one value all the way, tell no rate', () => {
  const tS = Float64Array.from({ length: 40 }, (_, k) => k);
  const [same, white] = [tS.map(() => 1), tS.map(() => 0.01)];
  const few = { tS: tS.subarray(0, 11), values: tS.subarray(0, 11), white, slow: white, slowS: 1 };
  expect(smoothRate(few)).toBeNull();
  expect(smoothRate({ tS, values: same, white, slow: white, slowS: 1 })).toBeNull();
});
