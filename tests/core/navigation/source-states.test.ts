/** A hand-over lies between two rows. By hand, no source. */
import { expect, test } from 'vitest';
import { feedStretches, handOvers } from '@/lib/core/navigation/source-states';

const STATES = [
  { value: 1, name: 'far', kind: 'measured', settlesS: 10 },
  { value: 2, name: 'near', kind: 'measured', settlesS: 20 },
] as const;

test('a hand-over lies between the last row of one state and the first of the next, also over cells without a value', () => {
  const tS = Float64Array.of(0, 1, 2, 3, 4, 5);
  const stretches = feedStretches(tS, Float64Array.of(1, 1, Number.NaN, 2, 2, 2), STATES, 2.5);
  expect(stretches.map(({ fromS, beforeS, toS }) => [fromS, beforeS, toS])).toEqual([
    [0, undefined, 3],
    [3, 1, 5],
  ]);
  expect(handOvers(stretches)).toMatchObject([{ from: 'far', to: 'near', beforeS: 1, atS: 3 }]);
});

test('after a gap a state begins at its own row, and the hand-over spans the gap', () => {
  const tS = Float64Array.of(0, 1, 2, 12, 13);
  const stretches = feedStretches(tS, Float64Array.of(1, 1, 1, 2, 2), STATES, 2.5);
  expect(stretches.map(({ fromS, beforeS, toS }) => [fromS, beforeS, toS])).toEqual([
    [0, undefined, 2],
    [12, undefined, 13],
  ]);
  expect(handOvers(stretches)).toMatchObject([{ beforeS: 2, atS: 12 }]);
});
