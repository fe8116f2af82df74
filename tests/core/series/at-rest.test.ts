import { describe, expect, test } from 'vitest';
import { isAtRest, restDigits } from '@/lib/core/series/at-rest';
import { gaussian } from '../../support/flown-session';
import { seededRandom } from '../../support/seeded-random';

const tS = Float64Array.from({ length: 600 }, (_, row) => row * 0.2);

/** Closing at 0.2 m/s but for 20 s from 40 s on, at rest by a jump of the rate between two rows. */
const wayM = (atS: number): number => 0.2 * (Math.min(atS, 40.07) + Math.max(0, atS - 60.13));
const resting = tS.map((atS) => 100 - wayM(atS));
/** Rows of one value. */
const STRETCH = { from: 201, to: 300 };

const DIGITS = { own: 1e-4, position: 1e-4 };

const columnOf = (values: Float64Array) => ({
  tS,
  values,
  rate: null,
  position: null,
  longestStepS: 1,
  heldS: 0,
});
const isRest = (values: Float64Array, stretch = STRETCH): boolean =>
  isAtRest(columnOf(values), stretch, DIGITS);

/** By the meaning of the words: a channel that is frozen has to leap to where the vehicle went meanwhile. */
describe('a value that repeats to the digit', () => {
  test('is a rest in data without noise that go on from it, at the start of the record too', () => {
    expect(new Set(resting.subarray(STRETCH.from, STRETCH.to + 1)).size).toBe(1);
    expect(isRest(resting)).toBe(true);
    const late = tS.map((atS) => 100 - 0.005 * Math.max(0, atS - 30) ** 2);
    expect(isRest(late, { from: 0, to: 150 })).toBe(true);
  });

  test('is frozen where the column leaps behind it', () => {
    const values = tS.map((atS) => 100 - 0.2 * atS);
    values.fill(values[201] ?? 0, 201, 301);
    expect(isRest(values)).toBe(false);
  });

  test('is frozen in noise, wherever it goes on', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const random = seededRandom(seed);
      const values = resting.map((value) => value + 0.01 * gaussian(random));
      values.fill(values[201] ?? 0, 201, 301);
      expect(isRest(values)).toBe(false);
    }
  });

  test('at the end of the record is a rest only where the column came to it, or its rate says so', () => {
    const to = tS.length - 1;
    const braked = tS.map((atS) => 50 + 0.005 * Math.max(0, 60 - atS) ** 2);
    expect(isRest(braked, { from: 300, to })).toBe(true);
    const stopped = tS.map((atS) => 100 - 0.2 * Math.min(atS, 60));
    expect(isRest(stopped, { from: 300, to })).toBe(false);
    // At contact, between two rows: the last step is 0.75 of those before it; a frozen channel makes whole ones.
    const touched = tS.map((atS) => 100 - 0.2 * Math.min(atS, 59.95));
    expect(isRest(touched, { from: 300, to })).toBe(true);
    const slowing = tS.map((atS) => 100 - 0.2 * Math.min(atS, 60) + 0.001 * Math.min(atS, 60) ** 2);
    expect(isRest(slowing, { from: 300, to })).toBe(false);
    const beside = { ...columnOf(stopped), rate: tS.map((atS) => (atS < 60 ? -0.2 : 0)) };
    expect(isAtRest(beside, { from: 300, to }, DIGITS)).toBe(true);
  });

  test('of a rate is a rest where the position goes on by it', () => {
    const rate = tS.map((atS) => (atS > 40.07 && atS < 60.13 ? 0 : -0.2));
    const steady = { ...columnOf(rate), position: resting };
    expect(isAtRest(steady, STRETCH, { own: 0.2, position: 0 })).toBe(true);
    const moving = tS.map((atS) => 100 - 0.2 * atS);
    expect(isAtRest({ ...steady, position: moving }, STRETCH, DIGITS)).toBe(false);
  });

  test('of a rate without noise is a rest where each row of the position has it so, whatever is beside it', () => {
    // Two short excesses before the stretch and one after it, within rows that are looked at.
    const rate = tS.map((_, row) => {
      if ((row > 185 && row <= 188) || (row > 190 && row <= 194)) return -0.26;
      if (row > 305 && row <= 309) return -0.23;
      // Speeding up in the end, the changes as small as the digits.
      return -0.2 - 1e-5 * Math.max(0, row - 400);
    });
    let placeM = 100;
    const position = rate.map((mps, row) => {
      placeM += 0.1 * (mps + (rate[row - 1] ?? mps));
      return Math.round(placeM * 1e4) / 1e4;
    });
    const stretch = { from: 195, to: 305 };
    const column = { ...columnOf(rate), position };
    expect(isAtRest(column, stretch, restDigits(column))).toBe(true);
    const elsewhere = position.map((m, row) => m - (row > 250 ? 0.02 * (row - 250) : 0));
    const frozen = { ...column, position: elsewhere };
    expect(isAtRest(frozen, stretch, restDigits(frozen))).toBe(false);
  });
});
