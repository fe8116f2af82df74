import { expect, test } from 'vitest';
import { listFigures } from '@/lib/core/reconstruction/list-figures';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { TelemetrySource } from '@/lib/core/session/session-input';
import { expectWithin } from '../../support/expect-within';
import {
  axialMotion,
  channel,
  FLOWN_PLAN,
  flownFinal,
  flownTelemetry,
  moveParts,
  sessionOf,
  TEST_ENGINE,
} from '../../support/flown-session';

/** A controller that goes from 0 to `size` and back, each value held for `everyS` rows. */
function moved(source: TelemetrySource, size: number, everyS: number): TelemetrySource {
  const values = source.tS.map((t) => (Math.floor(t / everyS) % 2 === 0 ? 0 : size));
  const stick = channel('stick_y', 'hand_controller.y', '1', values);
  return { ...source, channels: [...source.channels, stick] };
}

const plan = { ...FLOWN_PLAN, steps: FLOWN_PLAN.steps.slice(2) };

function measuresOf(flight: TelemetrySource, runs: readonly TelemetrySource[]) {
  const named = runs.map((run, index) => ({ ...run, file: `run-${index + 1}.csv` }));
  const simulations = { files: 'run-*.csv', like: 'a', sha256: 'b'.repeat(64), runs: named };
  const { reconstruction } = reconstruct(
    { ...sessionOf([flight], plan), simulations },
    TEST_ENGINE,
  );
  const measures = reconstruction.comparison?.measures ?? [];
  const of = (key: string) => measures.find((each) => each.key === key);
  return { of, figures: listFigures(reconstruction) };
}

/**
 * By hand: a deflection that changes every 5th row of 1 s has a duty of 0.2 (every 10th, in the median run, 0.1), and a root
 * mean square change of size x sqrt(0.2). So the flight has twice the duty of the runs, and with a size of
 * 0.6 against 0.3 an aggressiveness of 2 x sqrt(2) times theirs. The square wave of 10 s has its power at
 * 0.1 Hz, that of 20 s at 0.05 Hz.
 * Source: C. Niewind, DLR IB 111-2012/74, equations 3, 4 and 6 for both measures.
 */
test('a hand controller as flown stands beside the simulator’s, with their ratio', () => {
  const runs = [8, 9, 10, 10, 11, 12].map((everyS, k) => moved(flownFinal(k + 3), 0.3, everyS));
  const { of, figures } = measuresOf(moved(flownFinal(1), 0.6, 5), runs);
  const [duty, force] = [of('stick_duty_y'), of('stick_aggressiveness_y')];
  expectWithin(duty?.flight.value, 0.2, 0.003, 'whole changes in some 400 rows');
  expectWithin(duty?.simulator?.value, 0.1, 0.003, 'as above');
  expectWithin(duty?.ratio?.value, 2, 0.06, 'both of them');
  expectWithin(force?.flight.value, 0.6 * Math.sqrt(0.2), 0.003, 'as above');
  expectWithin(force?.ratio?.value, 2 * Math.SQRT2, 0.06, 'as above');
  const cut = of('stick_cut_off_y');
  expectWithin(cut?.flight.value, 0.1, 0.04, 'half the step of a spectrum over 16 or 32 rows');
  expectWithin(cut?.simulator?.value, 0.05, 0.04, 'as above');
  expect(figures.has('comparison.measures[stick_duty_y].ratio')).toBe(true);
  // Of six runs the smallest and the largest bound the median with 97 %: 1/8 and 1/12 about 1/10.
  expectWithin(
    duty?.simulator?.uncertainty?.random ?? 0,
    0.025,
    0.003,
    'the larger way, 1/8 - 1/10',
  );
  expectWithin(duty?.ratio?.uncertainty?.random ?? 0, 0.5, 0.07, '2 x 0.025 / 0.1');
});

/** A jet that fires once, at 300 s, and turns the vehicle by `sizeRadPerS`; rates are known until `untilS`. */
function fired(source: TelemetrySource, sizeRadPerS: number, untilS: number): TelemetrySource {
  const onTime = source.tS.map((t) => (t < 300 ? 0 : 0.1));
  const rate = source.tS.map((t) => (t > untilS ? Number.NaN : t < 300 ? 0 : sizeRadPerS));
  const jet = channel('jet', 'jet_on_time.roll', 's', onTime);
  const roll = channel('roll_rate', 'body_rate.roll', 'rad/s', rate);
  return { ...source, channels: [...source.channels, jet, roll] };
}

test('a run whose rates end before its jet fires has no rate per pulse, and is not counted', () => {
  const runs = [0.001, 0.002, 0.003].map((size, k) => fired(flownFinal(k + 3), size, 1e3));
  const cut = fired(flownFinal(6), 0.002, 250);
  const rate = measuresOf(fired(flownFinal(1), 0.004, 1e3), [...runs, cut]).of(
    'rate_per_pulse_roll',
  );
  expectWithin(rate?.simulator?.value, 0.002, 1e-12, 'the middle of three, rounding');
  expect(rate?.simulator?.method).toContain('Median of 3 runs');
  expectWithin(rate?.ratio?.value, 2, 1e-9, 'rounding');
});

test('runs without a hand controller, or with other rows, are said to be so', () => {
  const bare = measuresOf(moved(flownFinal(1), 0.6, 5), [flownFinal(3)]).of('stick_duty_y');
  expect([bare?.simulator, bare?.ratio]).toEqual([null, null]);
  const slow = flownTelemetry({
    axial: axialMotion(30, moveParts(0.08, 32, 40)),
    durationS: 500,
    stepS: 2,
    seed: 3,
  });
  const apart = measuresOf(moved(flownFinal(1), 0.6, 5), [moved(slow, 0.3, 10)]).of('stick_duty_y');
  expect(apart?.simulator?.value).toBeNull();
  expect(apart?.simulator?.reason).toMatch(/1 s apart as flown and 2 s as simulated/);
  expect(
    measuresOf(flownFinal(1), [moved(flownFinal(3), 0.3, 10)]).of('stick_duty_y'),
  ).toBeUndefined();
});
