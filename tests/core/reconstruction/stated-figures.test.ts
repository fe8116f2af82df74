/**
 * Numbers of the plan and the rules, and of the feeds, open what they rest on.
 *
 * By hand, no source: a cone of 3 deg at 20 m is 20 tan 3 deg = 1.048 m wide, and 0.1 m of axial distance are
 * 5.2 mm of it.
 */
import { expect, test } from 'vitest';
import type { ApproachStation } from '@/lib/core/reconstruction/approach-report';
import { feedFigures, unfedFigure, unusedFigures } from '@/lib/core/reconstruction/feed-figures';
import type { NavigationReport } from '@/lib/core/reconstruction/navigation-report';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import {
  corridorThere,
  plannedLength,
  plannedRateBetween,
  plannedRateThere,
} from '@/lib/core/reconstruction/stated-figures';
import type { Rule } from '@/lib/core/session/rule';
import { expectWithin } from '../../support/expect-within';
import { flownSession, plannedArrival, TEST_ENGINE } from '../../support/flown-session';
import { sampleFigure } from '../../support/sample-figure';

const CORRIDOR: Rule = {
  kind: 'quantity',
  id: 'corridor',
  statement: 'Inside the cone.',
  quantity: 'lateral_offset',
  sense: 'at-most',
  limit: { kind: 'cone', halfAngleRad: (3 * Math.PI) / 180, floorM: 0.25 },
  unit: 'm',
  within: { rangeM: null, axialM: [2, 80], step: null },
  persistsS: 0,
};

const { reconstruction } = reconstruct(
  {
    ...flownSession({ axial: plannedArrival(), durationS: 2000, rules: [CORRIDOR] }),
    planSha256: 'aa',
    rulesSha256: 'bb',
  },
  TEST_ENGINE,
);
const FAR = { name: 'far', kind: 'measured', fromS: 0, toS: 100, settlesS: 10 } as const;
const NEAR = { ...FAR, name: 'near', fromS: 130, beforeS: 129.6, toS: 200 } as const;
const NAVIGATION: NavigationReport = {
  solution: { file: 'telemetry.csv', channels: ['x'] },
  selector: 'nav',
  feeds: [
    FAR,
    { name: 'none', kind: 'propagated', fromS: 100, beforeS: 99.8, toS: 130, settlesS: 5 },
    NEAR,
  ],
  unused: [],
  steps: [],
  pairs: [],
  accuracies: [],
  turning: [],
  sources: [],
};
const fedBy = (feeds: NavigationReport['feeds']): Reconstruction => ({
  ...reconstruction,
  navigation: { ...NAVIGATION, feeds },
});

const station = (rangeM: number): ApproachStation => {
  const found = reconstruction.approach?.stations.find(
    ({ of, kind }) => kind === 'range' && of === rangeM,
  );
  if (found === undefined) throw new Error(`${rangeM} m was not passed`);
  return found;
};

test('a planned length, a planned rate and its mean name the plan file, and are exact', () => {
  const length = plannedLength(reconstruction, { id: 'to-30', plannedS: 370 });
  const there = plannedRateThere(reconstruction, station(50));
  const [between] = reconstruction.approach?.deviations ?? [];
  const mean = between === undefined ? null : plannedRateBetween(reconstruction, between);
  for (const figure of [length, there, mean]) {
    expect(figure?.evidence.sources).toEqual([{ file: 'plan', sha256: 'aa' }]);
    expect(figure?.uncertainty).toEqual({ random: 0, systematic: 0 });
  }
  expect(length.value).toBe(370);
  expectWithin(there?.value, 0.2, 1e-9, 'the profile is flat');
});

test('a planned rate read on a slope is as unsure as its range; its mean there says that it is not known', () => {
  // By hand: 0.3 m/s from 40 to 50 m of range and level on both sides, 0.4 m of range: 0.012 m/s.
  const sloping: Reconstruction = {
    ...reconstruction,
    plan: reconstruction.plan && {
      ...reconstruction.plan,
      steps: reconstruction.plan.steps.map((step) =>
        step.kind === 'move'
          ? {
              ...step,
              closingRateMps: [
                [40, 0],
                [50, 0.3],
              ],
            }
          : step,
      ),
    },
  };
  const at50 = { ...station(50), plannedMps: 0.3, rangeM: sampleFigure(50, 'm', 0.4) };
  const there = plannedRateThere(sloping, at50);
  expectWithin(there?.uncertainty?.random ?? Number.NaN, 0.012, 1e-9, 'by hand');
  expect(there?.evidence.sources).toContainEqual({ file: 'plan', sha256: 'aa' });
  const level = plannedRateThere(sloping, { ...at50, rangeM: sampleFigure(51, 'm', 0.4) });
  expect(level?.uncertainty).toEqual({ random: 0, systematic: 0 });
  const [between] = reconstruction.approach?.deviations ?? [];
  if (between === undefined) throw new Error('no stretch between two ranges');
  const mean = plannedRateBetween(sloping, { ...between, fromM: 49, toM: 41 });
  expect(mean.uncertainty).toBeNull();
  expect(mean.method).toMatch(/not worked out/);
});

test('a gap is told by the rows on both sides of it, a faulty stretch by its own', () => {
  const told = fedBy(NAVIGATION.feeds);
  const stretch = { channel: null, fromS: 200, toS: 230, note: 'no row for 30.0 s' };
  const gap = unusedFigures(told, { ...stretch, kind: 'gap', what: 'no rows' });
  expect(gap?.startS.method).toMatch(/^The last row before it/);
  expect(gap?.lengthS.method).toMatch(/End: the first row after it/);
  expect(
    unusedFigures(told, { ...stretch, kind: 'faulty', what: 'stands still' })?.startS.method,
  ).toMatch(/^Its first row/);
});

test('the radius of a cone is as uncertain as the distance at which it is read', () => {
  const at20 = { ...station(20), axialM: sampleFigure(20, 'm', 0.1) };
  const radiusM = 20 * Math.tan((3 * Math.PI) / 180);
  const corridor = { rule: 'corridor', radiusM };
  const cone = corridorThere(reconstruction, { ...at20, corridor });
  expectWithin(cone?.uncertainty?.random ?? Number.NaN, 0.0052, 5e-5, 'printed to a tenth of a mm');
  expect(cone?.evidence.sources).toContainEqual({ file: 'rules', sha256: 'bb' });
  const floor = corridorThere(reconstruction, {
    ...at20,
    corridor: { rule: 'corridor', radiusM: 0.25 },
  });
  expect(floor?.uncertainty).toEqual({ random: 0, systematic: 0 });
  expect(floor?.evidence.sources).toEqual([{ file: 'rules', sha256: 'bb' }]);
});

test('a feed starts between two rows, and its length is as uncertain as both of its ends', () => {
  const told = fedBy(NAVIGATION.feeds);
  const [, none, near] = feedFigures(told);
  expectWithin(none?.startS.value, 99.9, 1e-9, 'by hand');
  expectWithin(none?.startS.uncertainty?.random ?? Number.NaN, 0.1, 1e-9, 'by hand');
  expectWithin(none?.lengthS.value, 29.9, 1e-9, 'by hand');
  const both = Math.hypot(0.1, 0.2);
  expectWithin(none?.lengthS.uncertainty?.random ?? Number.NaN, both, 1e-9, 'by hand');
  expect(near?.lengthS.evidence.channels).toEqual(['nav']);
  const unfed = unfedFigure(told);
  expectWithin(unfed?.value, 29.9, 1e-9, 'the one stretch that was carried on');
  expectWithin(unfed?.uncertainty?.random ?? Number.NaN, both, 1e-9, 'by hand');
  expect(unfedFigure(fedBy([]))).toBeNull();
});

test('an edge between two stretches without a measurement adds nothing to how unsure their sum is', () => {
  const refused = { name: 'refused', kind: 'rejected', beforeS: 99.8, settlesS: 5 } as const;
  const carried = { name: 'none', kind: 'propagated', beforeS: 109, settlesS: 5 } as const;
  const both = unfedFigure(
    fedBy([FAR, { ...refused, fromS: 100, toS: 110 }, { ...carried, fromS: 110, toS: 130 }, NEAR]),
  );
  expectWithin(both?.value, 29.9, 1e-9, 'by hand, as of one stretch');
  const ends = Math.hypot(0.1, 0.2);
  expectWithin(both?.uncertainty?.random ?? Number.NaN, ends, 1e-9, 'by hand: the outer edges');
});

test('how unsure the edges of stretches without a measurement are is not known where no row is beside them', () => {
  const alone = unfedFigure(fedBy([{ ...FAR, kind: 'propagated' }]));
  expect([alone?.value, alone?.uncertainty]).toEqual([100, null]);
});
