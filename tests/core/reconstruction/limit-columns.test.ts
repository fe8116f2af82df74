import { expect, test } from 'vitest';
import { stretchFigures } from '@/lib/core/findings/stretch-figures';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { BandRule, Rule } from '@/lib/core/session/rule';
import { stripCatalogue } from '@/lib/view/timeline-strips';
import { expectWithin } from '../../support/expect-within';
import { channel, flownSession, plannedArrival, TEST_ENGINE } from '../../support/flown-session';

const NOWHERE = { rangeM: null, axialM: null, step: null, mode: null };
const BAND: BandRule = {
  kind: 'band',
  id: 'band',
  statement: 'The closing rate stays between its bounds.',
  quantity: { kind: 'named', name: 'closing_rate' },
  low: { kind: 'constant', value: 0.05 },
  high: {
    kind: 'by-range',
    points: [
      [10, 0.1],
      [20, 0.12],
    ],
  },
  when: { ...NOWHERE, rangeM: [5, 25], mode: { channel: 'mode', is: [2] } },
  persistsS: 0,
  unit: 'm/s',
};
const SUM: BandRule = {
  ...BAND,
  id: 'across',
  quantity: { kind: 'vector-sum', of: ['velocity.y', 'velocity.z'] },
  low: null,
  high: { kind: 'constant', value: 0.04 },
  when: null,
};

/** The flight with a mode that is 2 from 600 s to 740 s; there it comes from 21 m to 10 m at 0.08 m/s. */
function flown(rules: readonly Rule[]) {
  const session = flownSession({ axial: plannedArrival(), durationS: 2000, stepS: 0.4, rules });
  const sources = session.sources.map((source) =>
    source.type !== 'telemetry'
      ? source
      : {
          ...source,
          channels: [
            ...source.channels,
            channel(
              'mode',
              'mode',
              '1',
              source.tS.map((t) => (t >= 600 && t <= 740 ? 2 : 1)),
            ),
          ],
        },
  );
  return reconstruct({ ...session, sources }, TEST_ENGINE);
}

const { reconstruction, derived } = flown([BAND, SUM]);
const column = (name: string) => derived.columns.find((each) => each.name === name);

/** By hand: 30 m less 0.32 m of ramp at 498 s, then 0.08 m/s. */
const rangeAt = (t: number) => 29.68 - 0.08 * (t - 498);

test('both bounds of a band are columns where it applies, mode included, and nowhere else', () => {
  const [upper, lower] = [column('limit.band'), column('limit_low.band')];
  const at = (values: Float64Array | undefined, t: number) => values?.[Math.round(t / 0.4)];
  expectWithin(at(lower?.values, 640), 0.05, 1e-12, 'a constant');
  const bound = 0.1 + ((rangeAt(640) - 10) / 10) * 0.02;
  expectWithin(at(upper?.values, 640), bound, 1e-4, 'cm of range on a slope of 2 mm/s a metre');
  for (const t of [300, 599, 741, 800]) {
    expect([at(upper?.values, t), at(lower?.values, t)]).toEqual([Number.NaN, Number.NaN]);
  }
});

test('what a rule forms for itself stands beside its limit, on the timeline too', () => {
  expect(column('bounded.across')?.unit).toBe('m/s');
  expect(column('limit_low.across')).toBeUndefined();
  const channels = derived.columns.map(({ name, unit }) => ({
    key: name,
    source: null,
    name,
    as: name,
    unit,
  }));
  const { strips } = stripCatalogue(channels, [BAND, SUM]);
  const of = (id: string) =>
    strips
      .find((strip) => strip.id === id)
      ?.series.filter(({ role }) => role === 'limit')
      .map(({ key, label }) => [key, label]);
  expect(of('closing_rate')).toEqual([
    ['limit.band', 'upper limit'],
    ['limit_low.band', 'lower limit'],
  ]);
  expect(of('bounded.across')).toEqual([['limit.across', 'limit']]);
  expect(strips.find(({ id }) => id === 'bounded.across')?.label).toBe('Across, bounded');
});

test('a finding captures the smallest room to either bound', () => {
  const margin = (fromS: number, toS: number) =>
    stretchFigures({ reconstruction, derived, channels: [], fromS, toS }).find(
      ({ key }) => key === 'stretch.rules[band].margin',
    )?.figure;
  // 0.08 m/s lies 0.03 over the lower bound; the upper one comes down to 0.1203 m/s at 20 m.
  expectWithin(margin(620, 640)?.value, 0.03, 0.004, 'smallest of 50 rows of 1 mm/s');
  expect(margin(300, 400)).toBeUndefined();
  expect(margin(620, 640)?.evidence.channels).toEqual([
    'closing_rate',
    'limit.band',
    'limit_low.band',
  ]);
});
