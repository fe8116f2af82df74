import { describe, test } from 'vitest';
import {
  biased95,
  extreme95,
  flattenedCrossing,
  overshootShare,
} from '@/lib/core/math/extreme-interval';
import { expectWithin } from '../../support/expect-within';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/** Normal draws `stepS` apart, smoothed to a mean over `rows` of them, or as a first-order process. */
function trace(kind: 'mean of rows' | 'first order', rows: number, seed: number) {
  const random = seededRandom(seed);
  if (kind === 'first order') {
    const keep = Math.exp(-1 / rows);
    let level = gaussian(random);
    return (): number => {
      level = keep * level + Math.sqrt(1 - keep * keep) * gaussian(random);
      return level;
    };
  }
  const held = Array.from({ length: rows }, () => gaussian(random));
  let sum = held.reduce((a, b) => a + b, 0);
  let at = 0;
  return (): number => {
    sum -= held[at] ?? 0;
    held[at] = gaussian(random);
    sum += held[at] ?? 0;
    at = (at + 1) % rows;
    return sum / Math.sqrt(rows);
  };
}

describe('the half-width for the largest of noisy values over time', () => {
  test('is 1.96 for one, and that of the normal distribution for separate ones', () => {
    const alone = extreme95({ lastsS: 0, partingPerS: 1, stepS: 1 });
    expectWithin(alone, 1.959964, 1e-4, 'two-sided 95 % point of the normal distribution');
    // 0.95^(1/1000) = 0.9999487; the normal distribution's point there by tables is 3.884.
    const many = extreme95({ lastsS: 999, partingPerS: 1000, stepS: 1 });
    expectWithin(many, 3.884, 0.02, 'phi(u) / u for the tail is 7 % off there, a fiftieth in u');
  });

  test.each([
    ['mean of rows', 20, 3000],
    ['mean of rows', 5, 1500],
    ['first order', 40, 2000],
  ] as const)('holds the true largest along a trace, %s, %d rows', (kind, rows, count) => {
    const next = trace(kind, rows, 7 * rows);
    let inside = 0;
    const draws = 300;
    const half = extreme95({ lastsS: count - 1, partingPerS: 1 / rows, stepS: 1 });
    for (let draw = 0; draw < draws; draw++) {
      let largest = Number.NEGATIVE_INFINITY;
      for (let k = 0; k < count; k++) largest = Math.max(largest, next());
      if (Math.abs(largest) <= half) inside++;
    }
    expectWithin(inside / draws, 0.95, 0.038, 'three standard errors of 300 draws');
  });

  /** D. Siegmund, "Sequential Analysis" (1985), chapter X: nu(x) is exp(-0.583 x) to order x2, from memory. */
  test.each([0.1, 0.5, 1])('steps of %d deviations show exp(-0.583 x) of the crossings', (x) => {
    expectWithin(
      overshootShare(x),
      Math.exp(-0.583 * x),
      0.05 * x,
      'the formula is an approximation',
    );
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

test('a crossing near to a corner comes late by what a mean over a span takes off there', () => {
  const spanS = 2;
  for (const [slope, height] of [
    [0.02, 0.001],
    [0.02, 0.007],
    [0.02, 0.019],
    [0.02, 0.03],
    [0.5, 0.1],
  ] as const) {
    // It rises until 0 and stays `height` over the threshold.
    const value = (atS: number): number => height + slope * Math.min(0, atS);
    const mean = (atS: number): number => {
      const steps = 20_000;
      let sum = 0;
      for (let k = 0; k < steps; k++) sum += value(atS + spanS * ((k + 0.5) / steps - 0.5));
      return sum / steps;
    };
    let [low, high] = [-3, spanS];
    for (let k = 0; k < 40; k++) {
      const middle = (low + high) / 2;
      if (mean(middle) < 0) low = middle;
      else high = middle;
    }
    const lateS = low + height / slope;
    expectWithin(flattenedCrossing(slope, height, spanS), slope * lateS, 1e-7, 'midpoint rule');
  }
});
