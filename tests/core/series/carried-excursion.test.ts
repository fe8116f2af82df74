import { expect, test } from 'vitest';
import { isCarried } from '@/lib/core/series/carried-excursion';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/**
 * Rows every two seconds. At 200 s a jet adds 0.16 m/s to the rate, taken back at 0.02 m/s2: three rows are off, and the
 * vehicle is 0.16^2 / (2 x 0.02) = 0.64 m further on (elementary). `carries` says whether it really is.
 */
function approach(carries: 'yes' | 'no', whiteM: number, seed: number) {
  const random = seededRandom(seed);
  const tS = Float64Array.from({ length: 200 }, (_, row) => 2 * row);
  const excess = (atS: number) => (atS < 199 ? 0 : Math.max(0, 0.16 - 0.02 * (atS - 199)));
  const wayM = (atS: number) => {
    if (carries === 'no' || atS < 199) return 0;
    return 0.64 - excess(atS) ** 2 / 0.04;
  };
  const position = tS.map((atS) => 150 - 0.25 * atS - wayM(atS) + whiteM * gaussian(random));
  const rate = tS.map((atS) => -0.25 - excess(atS) + 0.002 * gaussian(random));
  return { tS, position, rate, longestStepS: 10 };
}

test('a short excursion of the rate that moved the vehicle is told from one that did not', () => {
  for (let seed = 1; seed <= 20; seed++) {
    const rows = { from: 100, to: 103 };
    expect(isCarried(approach('yes', 0.1, seed), rows)).toBe(true);
    expect(isCarried(approach('no', 0.1, seed), rows)).toBe(false);
  }
});

test('slow noise of the position is not taken for proof that the vehicle did not move', () => {
  for (let seed = 1; seed <= 20; seed++) {
    const random = seededRandom(100 + seed);
    const beside = approach('yes', 0.03, seed);
    const keep = Math.exp(-2 / 20);
    let slowM = 0.2 * gaussian(random);
    const position = beside.position.map((value) => {
      slowM = keep * slowM + 0.2 * Math.sqrt(1 - keep * keep) * gaussian(random);
      return value + slowM;
    });
    expect(isCarried({ ...beside, position }, { from: 100, to: 103 })).toBe(true);
  }
});

test('several rows that jets can make are motion while the positions hardly tell', () => {
  for (let seed = 1; seed <= 20; seed++) {
    expect(isCarried(approach('yes', 0.5, seed), { from: 100, to: 103 })).toBe(true);
  }
});

test('positions that do not tell leave it a spike where no jet makes such a rate', () => {
  let carried = 0;
  for (let seed = 1; seed <= 20; seed++) {
    const beside = approach('no', 1, seed);
    beside.rate[100] = -1.25;
    if (isCarried(beside, { from: 100, to: 100 })) carried++;
  }
  // The ratio of likelihoods passes e^3 without an excursion in 5 % of cases at the very most (e^-3, Markov).
  expect(carried).toBeLessThan(4);
  const beside = approach('yes', 0.01, 1);
  expect(isCarried({ ...beside, longestStepS: 1 }, { from: 100, to: 103 })).toBe(false);
});

test('one row of an excursion much shorter than the rows are apart is motion where the position went on', () => {
  // Half a second of 0.58 m/s more between rows every two seconds: 0.29 m, a quarter of the way between its neighbours.
  const flown = (shortM: number) => {
    const tS = Float64Array.from({ length: 200 }, (_, row) => 2 * row);
    const position = tS.map(
      (atS) => 150 - 0.2 * atS - (atS > 200 ? shortM : atS < 200 ? 0 : shortM / 2),
    );
    const rate = tS.map((atS) => (atS === 200 ? -0.78 : -0.2));
    const random = seededRandom(7);
    return {
      tS,
      position: position.map((m) => m + 0.005 * gaussian(random)),
      rate,
      longestStepS: 10,
    };
  };
  expect(isCarried(flown(0.29), { from: 100, to: 100 })).toBe(true);
  expect(isCarried(flown(0), { from: 100, to: 100 })).toBe(false);
});
