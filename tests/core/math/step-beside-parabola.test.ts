import { expect, test } from 'vitest';
import { squareOfStep } from '@/lib/core/math/step-beside-parabola';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/** Squares that columns leave of the data, taken off one after the other at right angles (Gram and Schmidt). */
function leftOver(data: readonly number[], columns: readonly (readonly number[])[]): number {
  const dot = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, one, i) => sum + one * (b[i] ?? 0), 0);
  const base: (readonly number[])[] = [];
  const freed = (column: readonly number[]): readonly number[] =>
    base.reduce((rest, unit) => {
      const share = dot(rest, unit);
      return rest.map((one, i) => one - share * (unit[i] ?? 0));
    }, column);
  for (const column of columns) {
    const own = freed(freed(column));
    const length = Math.sqrt(dot(own, own));
    base.push(own.map((one) => one / length));
  }
  const rest = freed(data);
  return dot(rest, rest);
}

test('a step takes off what least squares with and without it differ by, for thirty windows', () => {
  for (let seed = 1; seed <= 30; seed++) {
    const random = seededRandom(seed);
    let atS = 1000 * random();
    const tS = Float64Array.from({ length: 80 }, () => {
      atS += 0.1 + random();
      return atS;
    });
    const index = 15 + Math.floor(40 * random());
    const [from, to] = [index - 12, Math.min(80, index + 25)];
    const values = tS.map((when, i) => 50 - 0.2 * when + (i < index ? 0 : 0.3) + gaussian(random));
    const inside = Array.from(tS.subarray(from, to), (when) => when - (tS[index] ?? 0));
    const data = Array.from(values.subarray(from, to), (value) => value - (values[index] ?? 0));
    const parabola = [0, 1, 2].map((power) => inside.map((when) => (when / 20) ** power));
    const step = inside.map((when) => (when < 0 ? 0 : 1));
    const want = leftOver(data, parabola) - leftOver(data, [...parabola, step]);
    const got = squareOfStep({ tS, values, from, to, index });
    expectWithin(got, want, 1e-9 * (1 + want), 'rounding of squares of a few metres');
  }
});

test('a parabola alone has no step', () => {
  const tS = Float64Array.from({ length: 40 }, (_, i) => i);
  const values = tS.map((atS) => 3 - 0.5 * atS + 0.01 * atS * atS);
  expect(squareOfStep({ tS, values, from: 0, to: 40, index: 20 })).toBeLessThan(1e-20);
});
