import { expect, test } from 'vitest';
import { bracketedRoot } from '@/lib/core/math/roots';
import { slidingLine } from '@/lib/core/math/sliding-line';
import { median, normalQuantile } from '@/lib/core/math/statistics';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

function lineFitted(
  times: Float64Array,
  values: Float64Array,
  from: number,
  to: number,
  atS: number,
) {
  let sumT = 0;
  let sumY = 0;
  for (let i = from; i < to; i++) {
    sumT += times[i] ?? 0;
    sumY += values[i] ?? 0;
  }
  const n = to - from;
  let spread = 0;
  let product = 0;
  for (let i = from; i < to; i++) {
    const t = (times[i] ?? 0) - sumT / n;
    spread += t * t;
    product += t * ((values[i] ?? 0) - sumY / n);
  }
  const slope = product / spread;
  return { value: sumY / n + slope * (atS - sumT / n), slope };
}

test('the running sums give the same lines as fitting each one afresh', () => {
  const random = seededRandom(2);
  let atS = 0;
  const times = Float64Array.from({ length: 4000 }, () => {
    atS += 0.1 + 0.2 * random();
    return atS;
  });
  const values = Float64Array.from(times, (t) => Math.sin(t / 20) + 0.1 * gaussian(random));
  const columns = () => new Float64Array(times.length);
  const output = {
    atS: times,
    from: 0,
    to: times.length,
    value: columns(),
    slope: columns(),
    leverage: columns(),
    slopeLeverage: columns(),
  };
  slidingLine({ tS: times, values, from: 0, to: times.length }, 1, 3, output);
  for (let row = 20; row < times.length - 20; row++) {
    const at = times[row] ?? 0;
    const inside = (t: number): boolean => Math.abs(t - at) <= 1;
    const from = times.findIndex(inside);
    let to = from;
    while (to < times.length && inside(times[to] ?? 0)) to++;
    const afresh = lineFitted(times, values, from, to, at);
    expectWithin(output.value[row], afresh.value, 1e-9, 'rounding');
    expectWithin(output.slope[row], afresh.slope, 1e-8, 'rounding');
  }
});

test('a straight signal passes unchanged up to both ends', () => {
  const times = Float64Array.from({ length: 30 }, (_, i) => i * 0.2);
  const values = times.map((t) => 5 - 0.3 * t);
  const columns = () => new Float64Array(30);
  const output = {
    atS: times,
    from: 0,
    to: 30,
    value: columns(),
    slope: columns(),
    leverage: columns(),
    slopeLeverage: columns(),
  };
  slidingLine({ tS: times, values, from: 0, to: 30 }, 1, 3, output);
  for (let i = 0; i < 30; i++) {
    expectWithin(output.value[i], values[i] ?? 0, 1e-12, 'rounding');
    expectWithin(output.slope[i], -0.3, 1e-10, 'rounding');
  }
});

test('a median of an even count is the mean of the middle two', () => {
  expect(median([4, 1, Number.NaN, 3, 2])).toBe(2.5);
  expect(median([])).toBeNaN();
});

/** Source: standard normal table, two-sided 95 % and 99 % points. */
test('normal quantiles at 0.975 and 0.995', () => {
  expectWithin(normalQuantile(0.975), 1.959963984540054, 1e-8, 'relative error of the fit 1e-9');
  expectWithin(normalQuantile(0.995), 2.5758293035489, 1e-8, 'relative error of the fit 1e-9');
  expectWithin(normalQuantile(0.025), -1.959963984540054, 1e-8, 'relative error of the fit 1e-9');
});

test('a bracketed root is found to the tolerance, and NaN without a change of sign', () => {
  const cube = (x: number): number => x * x * x - 2;
  expectWithin(bracketedRoot(cube, { low: 0, high: 2 }, 1e-12), Math.cbrt(2), 1e-11, 'tolerance');
  expect(bracketedRoot(cube, { low: 2, high: 3 }, 1e-9)).toBeNaN();
});
