import { expect, test } from 'vitest';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { expectWithin } from '../../support/expect-within';
import {
  type AxialPart,
  axialMotion,
  type FlownOptions,
  flownSession,
  flownTelemetry,
  moveParts,
  TEST_ENGINE,
} from '../../support/flown-session';
import { RATE_RULE } from '../../support/rate-rule';

function flown(parts: readonly AxialPart[], durationS: number, more: Partial<FlownOptions> = {}) {
  const input = flownSession({ axial: axialMotion(100, parts), durationS, ...more });
  return reconstruct(input, TEST_ENGINE).reconstruction;
}

/** Braking at 0.01 m/s2 from 0.2 m/s to just over the hold rate, which is then met very slowly. */
const HOVERING = [
  { forS: 30, jumpMps: -0.2 },
  { forS: 17.5, accelMps2: 0.01 },
  { forS: 200, accelMps2: 0.00005 },
  { forS: 100 },
];

/** Common practice, no source: an edge that is hardly crossed is a range, not an instant. */
test('an edge at which braking hovers at the hold rate has a band that says so', () => {
  const slow = flown(HOVERING, 340);
  const edge = slow.phases[1]?.startS;
  // 0.025 m/s at 47.5 s, at 5e-5 m/s2: 0.02 m/s is met 100 s later.
  const half = edge?.uncertainty?.random ?? 0;
  expectWithin(edge?.value, 147.5, half, 'its own half-width');
  const sharp = flown(moveParts(0.2, 70, 60), 400).phases[1]?.startS.uncertainty?.random ?? 0;
  expect(half).toBeGreaterThan(20 * sharp);
});

/** Common practice, no source. */
test('a limit cycle inside the deadband is one hold', () => {
  const cycle = Array.from({ length: 12 }, (_, k): AxialPart => {
    const jumpMps = k === 0 ? 0.01 : k % 2 === 1 ? -0.02 : 0.02;
    return { forS: 20, jumpMps };
  });
  const { phases } = flown(cycle, 235);
  expect(phases.map(({ motion }) => motion)).toEqual(['hold']);
});

/** By the definitions of the rule's margin. */
test('a 1 s excursion under a persistence of 2 s is met, with a negative instant margin', () => {
  const parts = [
    { forS: 100, jumpMps: -0.1 },
    { forS: 1, jumpMps: -0.35 },
    { forS: 100, jumpMps: 0.35 },
  ];
  const rules = [{ ...RATE_RULE, persistsS: 2 }];
  const { rules: results, exceedances } = flown(parts, 195, { rules });
  expect(results[0]?.verdict).toBe('met');
  expect(results[0]?.instantMargin?.value).toBeLessThan(0);
  expect(exceedances).toEqual([]);
});

/** Common practice, no source: what a change of solution does is no motion. */
test('a step of 0.5 m in the solution makes no exceedance and no phase', () => {
  const options = {
    axial: axialMotion(100, [...moveParts(0.2, 70, 60), { forS: 100 }]),
    durationS: 500,
  };
  const source = flownTelemetry(options);
  const stepped = {
    ...source,
    channels: source.channels.map((each) =>
      each.as === 'position.x'
        ? {
            ...each,
            values: each.values.map((m, row) => m + ((source.tS[row] ?? 0) < 200 ? 0.5 : 0)),
          }
        : each,
    ),
  };
  const input = { ...flownSession({ ...options, rules: [RATE_RULE] }), sources: [stepped] };
  const { phases, exceedances, dataQuality } = reconstruct(input, TEST_ENGINE).reconstruction;
  expect(dataQuality.map(({ kind }) => kind)).toEqual(['step']);
  expect(exceedances).toEqual([]);
  expect(phases.map(({ motion }) => motion)).toEqual(['hold', 'closing', 'hold']);
});

test('noise alone gives no lateral rate at contact above its floor, for 20 seeds', () => {
  let above = 0;
  for (let seed = 1; seed <= 20; seed++) {
    const parts = [{ forS: 1000, jumpMps: -0.08 }];
    const axial = axialMotion(5, parts);
    const input = flownSession({ axial, durationS: 200, lateralM: [0, 90], seed });
    const figure = reconstruct(input, TEST_ENGINE).reconstruction.contact?.conditions.lateral_rate;
    if ((figure?.value ?? 0) > (figure?.uncertainty?.random ?? 0)) above++;
  }
  // A vector sum of two noisy means passes 1.96 of its deviations in exp(-1.96^2 / 2) = 15 % of cases, not in
  // 5 %: of 20 in 7 or more 2 % of the time, by the binomial distribution.
  expect(above).toBeLessThanOrEqual(6);
});

/** By the definition of contact: the rate is that along the axis, -dx/dt, not that of the range. */
test('beside the axis the closing rate at contact is the axial one, not that of the range', () => {
  const axial = axialMotion(8, [{ forS: 200, jumpMps: -0.08 }]);
  // So slow a swing stands still: z is 0.24 m throughout.
  const input = flownSession({ axial, durationS: 200, lateralM: [0.4, 1e9] });
  const { reconstruction, derived } = reconstruct(input, TEST_ENGINE);
  const figure = reconstruction.contact?.conditions.closing_rate;
  expectWithin(figure?.value, 0.08, figure?.uncertainty?.random ?? 0, 'its own half-width');
  const ofRange = derived.columns.find(({ name }) => name === 'closing_rate')?.values.at(-1);
  // In the last rows x is under 2 cm, so that the range closes at under 0.08 x 0.02 / 0.24 m/s.
  expectWithin(ofRange, 0, 0.012, 'a share of the axial rate, and its noise');
});
