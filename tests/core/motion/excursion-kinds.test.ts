import { expect, test } from 'vitest';
import { weighedTogether } from '@/lib/core/motion/excursion-kinds';
import type { ExcursionPosterior } from '@/lib/core/motion/excursion-posterior';
import { expectWithin } from '../../support/expect-within';

const ramp = { middleS: 0, lastsS: 0, column: new Float64Array(0), square: 1, product: 1 };
const numbers = { prior: 1, heightMps: 0.1, variance: 1e-4, netMps: 0, gain: 50 };

/** Two shapes, of which the falling one has this weight. */
function excursion(weight: number): ExcursionPosterior {
  const falling = { ...numbers, kind: 'falling' as const, up: ramp, down: ramp, weight };
  const topped = { ...falling, kind: 'topped' as const, weight: 1 - weight };
  return { members: [falling, topped], best: falling, unit: 1 };
}

function fallingShares(shares: readonly number[]): readonly number[] {
  return weighedTogether(shares.map(excursion)).map(({ members }) => members[0]?.weight ?? 0);
}

/**
 * By hand, two thirds falling and four fifths alike before looking: 0.9 and 0.5 falling by themselves are 1.35 x 0.75 times
 * 2/3 = 0.675 where both fall, 0.3 x 1.5 / 3 = 0.15 where none does, 1 where each is by itself;
 * (0.8 x 0.675 + 0.2 x 0.9) / (0.8 x 0.825 + 0.2) = 0.8372, and with 0.5 in place of 0.9: 0.7442.
 */
test('an excursion whose kind is not told is likely of the kind of the other', () => {
  const [clear, unclear] = fallingShares([0.9, 0.5]);
  expectWithin(clear, 0.8372, 5e-5, 'printed digits');
  expectWithin(unclear, 0.7442, 5e-5, 'printed digits');
});

test('one alone keeps its weights, and two that are told apart keep theirs', () => {
  expectWithin(fallingShares([0.3])[0], 0.3, 1e-12, 'rounding');
  const [falls, stays] = fallingShares([1, 0]);
  expect(falls).toBe(1);
  expect(stays).toBe(0);
});
