import { expect, test } from 'vitest';
import { advanced, carriedAhead, firstState, swayRows } from '@/lib/core/math/sway-filter';
import { expectWithin } from '../../support/expect-within';
import { solved } from '../../support/solved';

const dotted = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0);

/**
 * By conditioning all at once: the values' covariances written down in closed form (a straight line, an integrated random walk,
 * a damped oscillator driven by noise, a first-order process, white noise), the level free.
 */
test('the filter gives what conditioning on all values at once gives', () => {
  const tS = [0, 1, 2.5, 3, 5, 8, 9];
  const values = [0.3, 0.1, -0.4, -0.2, 0.5, 0.9, 0.4];
  const [white, slow, slowS, perS, size, periodS] = [0.02, 0.05, 4, 0.003, 0.3, 7];
  const aheadS = 2;
  const [w, endS] = [(2 * Math.PI) / periodS, 9 + aheadS];
  const [decay, turn] = [0.2 * w, w * Math.sqrt(1 - 0.04)];
  const swayed = (s: number): number =>
    size ** 2 * Math.exp(-decay * s) * (Math.cos(turn * s) + (decay / turn) * Math.sin(turn * s));
  const swayRate = (s: number): number =>
    -(size ** 2) * Math.exp(-decay * s) * ((w * w) / turn) * Math.sin(turn * s);
  // Way at a and b of a rate that is unknown at 0 by 100 and wanders from there on.
  const way = (a: number, b: number): number => {
    const [short, long] = [Math.min(a, b), Math.max(a, b)];
    return 100 * a * b + perS * (short ** 2 * (long / 2 - short / 6));
  };
  const covariance = tS.map((a, i) =>
    tS.map((b, k) => {
      const apartS = Math.abs(a - b);
      const noise = slow * Math.exp(-apartS / slowS) + (i === k ? white : 0);
      return way(a, b) + swayed(apartS) + noise;
    }),
  );
  const ones = tS.map(() => 1);
  const [byOnes, byValues] = [solved(covariance, ones).x, solved(covariance, values).x];
  const level = dotted(ones, byValues) / dotted(ones, byOnes);
  const off = solved(
    covariance,
    values.map((value) => value - level),
  ).x;
  const told = (with_: readonly number[], own: number, perLevel: number) => {
    const by = solved(covariance, with_).x;
    const missed = perLevel - dotted(ones, by);
    const variance = own - dotted(with_, by) + missed ** 2 / dotted(ones, byOnes);
    return { mean: perLevel * level + dotted(with_, off), sd: Math.sqrt(variance) };
  };
  const rate = told(
    tS.map((atS) => 100 * atS + perS * (atS ** 2 / 2) + swayRate(endS - atS)),
    100 + perS * endS + size ** 2 * w ** 2,
    0,
  );
  const place = told(
    tS.map((atS) => way(atS, endS) + swayed(endS - atS)),
    way(endS, endS) + size ** 2,
    1,
  );
  const column = (each: number): Float64Array => new Float64Array(tS.length).fill(each);
  const rows = swayRows(
    {
      ...{ tS: Float64Array.from(tS), values: Float64Array.from(values) },
      ...{ white: column(white), slow: column(slow), slowS },
    },
    { size, periodS },
  );
  const last = advanced(rows, firstState(rows), { from: 1, to: tS.length, perS });
  const found = carriedAhead(rows, last, { perS, aheadS });
  expectWithin(found.rate, rate.mean, 1e-9, 'rounding');
  expectWithin(found.rateSd, rate.sd, 1e-9, 'rounding');
  expectWithin(found.level, place.mean, 1e-9, 'rounding');
  expectWithin(found.levelSd, place.sd, 1e-9, 'rounding');
  expect(found.rateSd).toBeGreaterThan(0.05);
});
