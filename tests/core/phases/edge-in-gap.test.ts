import { describe, expect, test } from 'vitest';
import { halfWidth95 } from '@/lib/core/figure';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { expectWithin } from '../../support/expect-within';
import { flownSession, plannedArrival, TEST_ENGINE } from '../../support/flown-session';

/** True edges: the rate crosses 0.02 m/s two seconds into the ramp, and two before its end. */
const START_S = 62;
const STOP_S = 60 + 20 + 330 + 20 - 2;

describe('an edge that a gap hides', () => {
  const edges = (gapS: readonly [number, number]) => {
    const input = flownSession({ axial: plannedArrival(), durationS: 2000, gapS });
    return reconstruct(input, TEST_ENGINE).reconstruction.phases.map((phase) => phase.startS);
  };

  test.each([[[40, 75]], [[58, 90]], [[61, 100]]] as const)(
    'the start of a move lies where the way travelled in %j puts it',
    (gapS) => {
      const start = edges(gapS)[1];
      expectWithin(start?.value, START_S, 2, 'allowance of an edge where velocity is measured');
      const half = start === undefined ? null : halfWidth95(start);
      expect(Math.abs((start?.value ?? 0) - START_S)).toBeLessThan(half ?? 0);
    },
  );

  test('the range at an edge in a gap is that of the hold before it', () => {
    const input = flownSession({ axial: plannedArrival(), durationS: 2000, gapS: [40, 90] });
    const [hold] = reconstruct(input, TEST_ENGINE).reconstruction.phases;
    expectWithin(hold?.rangeEndM.value, 100, 0.15, 'noise of 11 cm over a minute, ramp of 2 cm');
  });

  test('the end of a move lies where the way travelled puts it', () => {
    const stop = edges([STOP_S - 30, STOP_S + 12])[2];
    expectWithin(stop?.value, STOP_S, 2, 'allowance of an edge where velocity is measured');
  });
});
