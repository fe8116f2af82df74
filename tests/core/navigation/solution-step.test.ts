import { expect, test } from 'vitest';
import { positionJump, velocityJump } from '@/lib/core/navigation/solution-step';
import { takeSamples } from '@/lib/core/series/samples';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/**
 * A first-order process of 0.04 m and 5 s under white noise of 0.01 m; the truth is the step that was put in.
 * By hand: 95 % of 40 intervals is 38; fewer than 33 come from honest ones once in 1 400 times.
 */
test('without a velocity the half-width of a step counts noise that hangs together for seconds', () => {
  const tS = Float64Array.from({ length: 2400 }, (_, row) => row * 0.1);
  const kept = Math.exp(-0.1 / 5);
  const holds = Array.from({ length: 40 }, (_, seed) => {
    const random = seededRandom(seed + 1);
    let slowM = 0.04 * gaussian(random);
    const values = tS.map((atS) => {
      slowM = kept * slowM + Math.sqrt(1 - kept * kept) * 0.04 * gaussian(random);
      return 100 - 0.2 * atS + (atS < 119.95 ? 0 : 0.4) + slowM + 0.01 * gaussian(random);
    });
    const jump = positionJump(takeSamples(tS, values, null), null, { beforeS: 119.9, atS: 120 });
    return Math.abs((jump?.value ?? Number.NaN) - 0.4) <= (jump?.half ?? Number.NaN);
  });
  expect(holds.filter(Boolean).length).toBeGreaterThanOrEqual(33);
});

/**
 * White noise at 1 row a second, a step put in: 5 rows on either side of 4 s, 6 degrees of freedom. By hand: 1.96
 * standard errors hold 90.2 % there and Student's t (2.447) 95 %; of 1,000 honest intervals fewer than 92.5 % hold
 * once in 3,900 times, of those of the normal as many as that once in 136 (SciPy's t and binom).
 */
test('a step of the velocity is told from one row a second, by as much as so few rows can', () => {
  const tS = Float64Array.from({ length: 40 }, (_, row) => row);
  const random = seededRandom(17);
  const place = { beforeS: 19, atS: 20 };
  let inside = 0;
  for (let trial = 0; trial < 1000; trial++) {
    const values = tS.map((atS) => (atS < 20 ? -0.2 : -0.15) + 0.01 * gaussian(random));
    const samples = { ...takeSamples(tS, values, null), correlation: 0 };
    const jump = velocityJump(samples, place);
    if (Math.abs((jump?.value ?? Number.NaN) - 0.05) <= (jump?.half ?? Number.NaN)) inside++;
  }
  expect(inside).toBeGreaterThanOrEqual(925);
  expect(inside).toBeLessThanOrEqual(975);
});
