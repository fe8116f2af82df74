/** The plan as traces, against ranges worked out by hand; strips that share a place. */
import { expect, test } from 'vitest';
import type { Reconstruction } from '@/lib/core/reconstruction/reconstruction';
import { stripPlot } from '@/lib/view/charts/strip-plot';
import { readStripAt } from '@/lib/view/charts/strip-reading';
import { canShare, isKnownPlace, partsOfPlace, stripAtPlace } from '@/lib/view/strip-places';
import { planTraces } from '@/lib/view/timeline-plan';
import type { Strip } from '@/lib/view/timeline-strips';
import { sampleReconstruction } from '../support/sample-reconstruction';

const [phase] = sampleReconstruction.phases;
if (phase === undefined || sampleReconstruction.plan === null) throw new Error('a plan is needed');

/** A hold of 100 s at 50 m, then 25 s along 1 m/s over 40 m and 0.5 m/s at 10 m. */
const flown: Reconstruction = {
  ...sampleReconstruction,
  plan: {
    ...sampleReconstruction.plan,
    steps: [
      { kind: 'hold', id: 'first', holdM: 50, toleranceM: 2, plannedS: 100 },
      {
        kind: 'move',
        id: 'in',
        toM: 10,
        plannedS: 80,
        closingRateMps: [[0, 0.5]],
        toleranceMps: 0.1,
      },
    ],
  },
  phases: [
    {
      ...phase,
      step: 'first',
      startS: { ...phase.startS, value: 20 },
      endS: { ...phase.endS, value: 150 },
    },
    {
      ...phase,
      step: 'in',
      startS: { ...phase.startS, value: 150 },
      endS: { ...phase.endS, value: 230 },
    },
  ],
};

const strip = (id: string, unit = 'm'): Strip => ({
  id,
  label: id,
  group: 'derived',
  unit,
  siUnit: unit,
  fromSi: 1,
  decimals: 2,
  series: [{ key: id, label: 'estimated', role: 'measured', colour: 1, dash: 'solid' }],
});

test('the range as planned starts with the first flown step and keeps the time of each', () => {
  const { range, holds, holdTolerances, rateTolerances } = planTraces(flown);
  if (range === null || holds === null) throw new Error('there is a plan');
  const series = { key: 'plan', label: 'plan', role: 'plan', colour: 3, dash: 'solid' } as const;
  const at = (tS: number) =>
    readStripAt([], { ...series, points: range }, { tS, window: { fromS: 0, toS: 300 }, fromSi: 1 })
      ?.low;
  expect(at(20)).toBe(50);
  expect(at(119)).toBe(50);
  // 40 m at 0.5 m/s take the planned 80 s: half of the way after half of the time.
  expect(at(160)).toBeCloseTo(30, 9);
  expect(at(200)).toBeCloseTo(10, 9);
  expect(at(201)).toBeUndefined();
  expect(holdTolerances).toEqual([{ fromS: 20, toS: 150, by: 2 }]);
  expect(rateTolerances).toEqual([{ fromS: 150, toS: 230, by: 0.1 }]);
  expect(new Set(holds.values)).toEqual(new Set([50, null]));
});

test('a tolerance is drawn as a band about its line, where it applies', () => {
  const { holds, holdTolerances } = planTraces(flown);
  if (holds === null) throw new Error('there is a hold');
  const drawnIn = (window: Readonly<{ fromS: number; toS: number }>) =>
    stripPlot({
      strip: {
        ...strip('range'),
        series: [
          {
            key: 'plan.holds',
            label: 'hold',
            role: 'plan',
            colour: 3,
            dash: 'long-dash',
            points: holds,
            tolerances: holdTolerances,
          },
        ],
      },
      window,
      timeTickCount: 4,
      answers: [],
      bands: [],
      marks: [],
    });
  const { spreads } = drawnIn({ fromS: 0, toS: 300 });
  expect(spreads[0]?.low[0]).toBe(48);
  expect(spreads[0]?.high[0]).toBe(52);
  // Between two points of the line it is drawn, after the hold it is not.
  expect(drawnIn({ fromS: 60.1, toS: 60.2 }).plot.series).toHaveLength(1);
  expect(drawnIn({ fromS: 160, toS: 200 }).plot.series).toHaveLength(0);
});

test('strips of one unit share a place, each line with a name, a colour and a dash of its own', () => {
  const catalogue = {
    strips: [strip('a'), strip('b+c'), strip('v', 'm/s')],
    defaultIds: [],
    absent: [],
  };
  const known = new Set(catalogue.strips.map(({ id }) => id));
  expect(partsOfPlace('b+c', known)).toEqual(['b+c']);
  expect(partsOfPlace('a+b%2Bc', known)).toEqual(['a', 'b+c']);
  expect(isKnownPlace('a+nothing', known)).toBe(false);
  const shared = stripAtPlace(catalogue, 'a+b%2Bc');
  expect(shared?.series.map(({ label }) => label)).toEqual(['a', 'b+c']);
  const looks = shared?.series.map(({ colour, dash }) => `${colour} ${dash}`);
  expect(new Set(looks).size).toBe(2);
  expect(canShare(strip('a'), strip('v', 'm/s'))).toBe(false);
  expect(stripAtPlace(catalogue, 'a+v')?.series).toHaveLength(1);
});
