import { expect, test } from 'vitest';
import { disagrees, rateAgreement } from '@/lib/core/series/rate-agreement';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

/** 15 min at 5 Hz, closing from 250 m with a hold; noise of 0.1 m and 2 mm/s. */
function flight(change: (rateMps: number) => number, jumpM = 0) {
  const random = seededRandom(7);
  const noise = () => random() + random() + random() - 1.5;
  const tS = Float64Array.from({ length: 4500 }, (_, row) => row / 5);
  const truth = (timeS: number) => (timeS > 300 && timeS < 420 ? 0 : -0.25);
  let trueM = 250;
  const position = tS.map((timeS) => {
    trueM += truth(timeS) / 5;
    return trueM + 0.2 * noise() + (timeS > 600 ? jumpM : 0);
  });
  return { tS, position, rate: tS.map((timeS) => change(truth(timeS)) + 0.004 * noise()) };
}

test.each([
  ['as measured', (rate: number) => rate, false, 1],
  ['with the other sign', (rate: number) => -rate, true, -1],
  ['in feet a second', (rate: number) => rate / 0.3048, true, 0.3048],
  ['a twentieth too large', (rate: number) => 1.05 * rate, false, 1 / 1.05],
])('a rate %s is told by the position', (_, change, isWrong, slope) => {
  const { tS, position, rate } = flight(change);
  const agreement = rateAgreement(tS, position, rate, 1);
  expect(agreement?.slope).toBeCloseTo(slope, 1);
  expect(agreement === null ? null : disagrees(agreement)).toBe(isWrong);
});

test('a jump of the position spoils one span, not the answer', () => {
  const { tS, position, rate } = flight((each) => each, 8);
  expect(rateAgreement(tS, position, rate, 1)?.slope).toBeCloseTo(1, 1);
});

test('noise about a place that does not move tells nothing', () => {
  const { tS, position } = flight(() => 0);
  const still = position.map((value, row) => value - (position[row - 1] ?? value));
  const agreement = rateAgreement(
    tS,
    still,
    still.map((value) => value / 100),
    1,
  );
  expect(agreement === null ? false : disagrees(agreement)).toBe(false);
});

test('slow noise of a rate along an axis that hardly moves is no fault of it', () => {
  const random = seededRandom(3);
  const tS = Float64Array.from({ length: 900 }, (_, row) => row);
  let slowMps = 0;
  const swayS = 60;
  const position = tS.map((atS) => 0.1 * Math.sin(atS / swayS) + 0.02 * gaussian(random));
  const rate = tS.map((atS) => {
    const keep = Math.exp(-1 / 20);
    slowMps = keep * slowMps + 0.004 * Math.sqrt(1 - keep * keep) * gaussian(random);
    return (0.1 / swayS) * Math.cos(atS / swayS) + slowMps;
  });
  const agreement = rateAgreement(tS, position, rate, 5);
  expect(agreement?.slope).toBeLessThan(0.5);
  expect(agreement === null ? null : disagrees(agreement, agreement.offM)).toBe(false);
});

test('noise of rate and position along an axis that keeps still tells no sign', () => {
  for (let seed = 1; seed <= 20; seed++) {
    const random = seededRandom(seed);
    const tS = Float64Array.from({ length: 700 }, (_, row) => 2 * row);
    const position = tS.map(() => 0.02 * gaussian(random));
    const rate = tS.map(() => 0.004 * gaussian(random));
    const agreement = rateAgreement(tS, position, rate, 10);
    expect(agreement === null ? null : disagrees(agreement, agreement.offM)).toBe(false);
  }
});
