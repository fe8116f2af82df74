import { describe, test } from 'vitest';
import { biased95, extreme95, flattenedAtCorner } from '@/lib/core/math/extreme-interval';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

describe('the half-width for the largest of several noisy values', () => {
  test('is 1.96 for one, and the root of the normal distribution for many', () => {
    expectWithin(extreme95(1), 1.959964, 1e-6, 'two-sided 95 % point of the normal distribution');
    // 0.95^(1/10) = 0.994884; the normal distribution's point there by tables is 2.5679.
    expectWithin(extreme95(10), 2.5679, 5e-4, 'tables of the normal distribution');
  });

  test.each([2, 5, 20])('holds the true largest of %d alike values in 95 of 100 draws', (count) => {
    const random = seededRandom(41 + count);
    let inside = 0;
    const draws = 4000;
    for (let draw = 0; draw < draws; draw++) {
      let largest = Number.NEGATIVE_INFINITY;
      for (let k = 0; k < count; k++) largest = Math.max(largest, gaussian(random));
      if (Math.abs(largest) <= extreme95(count)) inside++;
    }
    expectWithin(inside / draws, 0.95, 0.014, 'four standard errors of 4,000 draws');
  });
});

describe('the half-width round an estimate with a bias of unknown sign', () => {
  // T. B. Armstrong, M. Kolesar (2020), table 1 of critical values cv at 95 %.
  test.each([
    [0, 1.96],
    [0.5, 2.181],
    [1, 2.65],
    [2, 3.645],
  ])('is that of the published table at %d standard deviations', (bias, wanted) => {
    expectWithin(biased95(2, 2 * bias) / 2, wanted, 0.01, 'from memory, so to a hundredth');
  });
});

test('a corner is flattened as the mean over the span says, by brute force', () => {
  const [slope, spanS] = [0.02, 2];
  for (const awayS of [0, 0.3, 0.8, 1.2]) {
    // The value rises until `awayS` and then stays; what the mean over the span lacks.
    let sum = 0;
    const steps = 20_000;
    for (let k = 0; k < steps; k++) {
      const t = ((k + 0.5) / steps - 0.5) * spanS;
      sum += slope * (t - Math.min(t, awayS));
    }
    expectWithin(flattenedAtCorner(slope, awayS, spanS), sum / steps, 1e-8, 'midpoint rule');
  }
});
