import { describe, expect, test } from 'vitest';
import { halfWidth95 } from '@/lib/core/figure';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Rule } from '@/lib/core/session/rule';
import { expectWithin } from '../../support/expect-within';
import {
  flownSession,
  lateralTruth,
  plannedArrival,
  TEST_ENGINE,
} from '../../support/flown-session';

const CORRIDOR: Rule = {
  kind: 'quantity',
  id: 'corridor',
  statement: 'Inside the cone.',
  quantity: 'lateral_offset',
  sense: 'at-most',
  limit: { kind: 'cone', halfAngleRad: (2 * Math.PI) / 180, floorM: 0.3 },
  unit: 'm',
  within: { rangeM: null, axialM: [2, 80], step: null },
  persistsS: 0,
};

describe('an arrival flown as planned', () => {
  const flight = { axial: plannedArrival(), durationS: 2000, rules: [CORRIDOR] };
  const { reconstruction } = reconstruct(flownSession(flight), TEST_ENGINE);
  const { stations, deviations } = reconstruction.approach ?? { stations: [], deviations: [] };

  test('stands at each run, round range, the least clearance and contact, in time order', () => {
    const kinds = stations.map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === 'run-start')).toHaveLength(4);
    expect(kinds.at(-1)).toBe('contact');
    const times = stations.map(({ timeS }) => timeS.value ?? Number.NaN);
    expect([...times].sort((a, b) => a - b)).toEqual(times);
    const ranges = stations.flatMap(({ kind, of }) => (kind === 'range' ? [of] : []));
    expect(ranges).toEqual([50, 30, 20, 10, 5, 2, 1]);
  });

  test('is where the noise-free flight was, inside its intervals', () => {
    for (const station of stations) {
      const atS = station.timeS.value ?? Number.NaN;
      const truth = flight.axial(atS);
      const side = lateralTruth({ ...flight }, atS);
      const within = (figure: typeof station.axialM, exact: number) =>
        // Some fifty intervals of 95 %: twice the width holds all of them but one in 10^4.
        expectWithin(figure.value ?? Number.NaN, exact, 2 * (halfWidth95(figure) ?? 0), 'noise');
      if (station.kind === 'contact') continue;
      within(station.axialM, truth.xM);
      within(station.yM, side.yM);
      within(station.closingMps, -truth.vMps);
    }
  });

  test('the least clearance is the corridor rule’s own margin at its worst instant', () => {
    const least = stations.find(({ kind }) => kind === 'least-clearance');
    const [rule] = reconstruction.rules;
    expectWithin(
      least?.clearanceM?.value,
      rule?.instantMargin?.value ?? Number.NaN,
      1e-6,
      'one computation from two sides',
    );
    expectWithin(least?.timeS.value, rule?.atS ?? Number.NaN, 1e-6, 'as above');
    expect(least?.corridor?.rule).toBe('corridor');
    const far = stations.find(({ kind, of }) => kind === 'range' && of === 50);
    expect(stations[0]?.clearanceM).toBeNull();
    expect(far?.clearanceM).not.toBeNull();
  });

  test('has no deviation along the profile, and its ramps stand apart', () => {
    const toThirty = deviations.filter(({ step }) => step === 'to-30');
    expect(toThirty[0]?.part).toBe('speeding-up');
    expect(toThirty.at(-1)?.part).toBe('braking');
    for (const each of deviations) {
      if (each.part !== 'profile') continue;
      const half = halfWidth95(each.deviationMps) ?? 0;
      expectWithin(each.deviationMps.value, 0, 2 * half, 'noise of a mean');
      expect(each.outsideS.value).toBe(0);
      expectWithin(
        each.lateS?.value,
        0,
        2 * (halfWidth95(each.lateS ?? each.meanMps) ?? 0),
        'noise',
      );
    }
    // Half the rate on average while it is being built up.
    expectWithin(toThirty[0]?.deviationMps.value, -0.1, 0.015, 'edge of the run at 0.02 m/s');
    expect(deviations.at(-1)?.part).toBe('last-metres');
  });

  test('time to go by plan and by rate agree with the flight on its last leg', () => {
    const contactS = reconstruction.contact?.timeS.value ?? Number.NaN;
    for (const station of stations) {
      const rangeM = station.of ?? 0;
      if (station.kind !== 'range' || rangeM > 20) continue;
      const leftS = contactS - (station.timeS.value ?? Number.NaN);
      expectWithin(station.toGoByPlanS?.value, leftS, 3, 'range to some cm at 0.08 m/s');
      const byRate = station.toGoByRateS;
      expectWithin(
        byRate?.value,
        leftS,
        2 * (byRate ? (halfWidth95(byRate) ?? 0) : 0) + 1,
        'noise',
      );
    }
  });
});

test('a flight 0.05 m/s too fast is that much off and ahead of the plan’s clock', () => {
  const fast = plannedArrival();
  const session = flownSession({ axial: fast, durationS: 430 });
  const { plan } = session;
  if (plan === null) throw new Error('a plan was given');
  const slower = plan.steps.map((step) =>
    step.kind === 'move'
      ? { ...step, closingRateMps: step.closingRateMps.map(([m, v]) => [m, v - 0.05] as const) }
      : step,
  );
  const { reconstruction } = reconstruct(
    { ...session, plan: { ...plan, steps: slower } },
    TEST_ENGINE,
  );
  const along = (reconstruction.approach?.deviations ?? []).filter(
    ({ part }) => part === 'profile',
  );
  expect(along.length).toBeGreaterThan(3);
  // The way to reach the flown rate is longer than the planned one: the first and last stretch hold some of a ramp.
  for (const each of along.slice(1, -1)) {
    expectWithin(each.deviationMps.value, 0.05, 0.002, 'noise of a mean');
    expect(each.outsideS.value).toBeGreaterThan(0);
  }
  // 100 to 50 m: planned 15 s of ramp over 1.125 m and the rest at 0.15; flown 20 s over 2 m, at 0.2.
  const last = along.at(-2);
  const planned = 15 + (100 - (last?.toM ?? 0) - 1.125) / 0.15;
  const flown = 20 + (100 - (last?.toM ?? 0) - 2) / 0.2;
  expectWithin(
    last?.lateS?.value,
    flown - planned,
    2,
    'end of the stretch to a row, start to 0.4 s',
  );
});
