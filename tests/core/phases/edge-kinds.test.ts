import { expect, test } from 'vitest';
import { DECAYS, RAMP } from '@/lib/core/phases/edge-kinds';
import { expectWithin } from '../../support/expect-within';

const [LASTS_S, SIZE_MPS, STEP_S] = [10, 0.05, 1e-3];

/** By definition: the rate is the way's first derivative, its change the second; here by differences. */
test.each([0.1, 0.35, 0.7, 0.9])(
  'a rate passes %d of its size where and as fast as its way tells',
  (share) => {
    for (const kind of [RAMP, ...DECAYS]) {
      const way = (atS: number): number => kind.wayM(LASTS_S, atS);
      const rate = (atS: number): number => (way(atS + STEP_S) - way(atS - STEP_S)) / (2 * STEP_S);
      const { afterS, perShareS } = kind.passes(LASTS_S, share);
      expectWithin(rate(afterS), share, 1e-6, 'differences of ways of metres over milliseconds');
      const changeMps2 =
        (SIZE_MPS * (rate(afterS + STEP_S) - rate(afterS - STEP_S))) / (2 * STEP_S);
      const told = kind.accelerationMps2(LASTS_S, SIZE_MPS, share * SIZE_MPS);
      expectWithin(told, changeMps2, 1e-6, 'as above');
      // By the chain rule: d after / d log share = share / (d rate / d time).
      expectWithin(perShareS, (share * SIZE_MPS) / changeMps2, 1e-3, 'as above');
    }
  },
);

test('a decay has come its way in the end: as far as the rate has gone on since', () => {
  for (const kind of DECAYS) {
    const laterM = kind.wayM(LASTS_S, 200) - kind.wayM(LASTS_S, 100);
    expect(laterM).toBeCloseTo(100, 9);
    expect(kind.wayM(LASTS_S, -400)).toBeCloseTo(0, 9);
  }
});
