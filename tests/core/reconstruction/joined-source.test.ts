import { expect, test } from 'vitest';
import { halfWidth95 } from '@/lib/core/figure';
import { partAt } from '@/lib/core/reconstruction/joined-source';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { TelemetrySource } from '@/lib/core/session/session-input';
import { expectWithin } from '../../support/expect-within';
import {
  axialMotion,
  FLOWN_PLAN,
  type FlownOptions,
  flownTelemetry,
  plannedArrival,
  sessionOf,
  TEST_ENGINE,
} from '../../support/flown-session';

const FLIGHT: FlownOptions = { axial: plannedArrival(), durationS: 500 };
/** On the way from 100 to 30 m. */
const MEET_S = 250;

/** The rows from one time up to another, under a name; `offM` is added to x. */
function part(
  whole: TelemetrySource,
  file: string,
  { fromS = 0, toS = 500, offM = 0 },
): TelemetrySource {
  const from = whole.tS.findIndex((atS) => atS >= fromS);
  const to = whole.tS.findLastIndex((atS) => atS <= toS) + 1;
  const channels = whole.channels.map((each) => {
    const values = each.values.slice(from, to);
    return each.as === 'position.x'
      ? { ...each, values: values.map((m) => m + offM) }
      : { ...each, values };
  });
  return { ...whole, file, tS: whole.tS.slice(from, to), channels };
}

function flown(measuresVelocity: 'yes' | 'no') {
  const far = flownTelemetry({ ...FLIGHT, measuresVelocity, stepS: 1, seed: 11 });
  const near = flownTelemetry({ ...FLIGHT, measuresVelocity, stepS: 0.5, seed: 12 });
  return { far, near };
}

const run = (...sources: readonly TelemetrySource[]) =>
  reconstruct(sessionOf(sources, FLOWN_PLAN), TEST_ENGINE).reconstruction;

const NOTHING_ELSE = { stepS: 1, longestStepS: 5, gaps: [], channels: [], faults: [] };

const phasesOf = ({ phases }: ReturnType<typeof run>) =>
  phases.map(({ motion, step }) => `${motion} ${step}`);

for (const measuresVelocity of ['yes', 'no'] as const) {
  test(`two sources one after another are one motion, velocity measured: ${measuresVelocity}`, () => {
    const { far, near } = flown(measuresVelocity);
    const joined = run(
      part(near, 'near.csv', { fromS: MEET_S }),
      part(far, 'far.csv', { toS: MEET_S - 1, offM: 1.5 }),
    );
    const alone = run(near);
    expect(phasesOf(joined)).toEqual(phasesOf(alone));
    joined.phases.forEach((phase, i) => {
      const want = alone.phases[i]?.startS.value ?? Number.NaN;
      expectWithin(phase.startS.value, want, 2, 'both show the same flight');
    });
    const steps = joined.dataQuality.filter(({ kind }) => kind === 'step');
    expect(steps).toMatchObject([{ source: 'near.csv', channel: 'x', endS: MEET_S }]);
    expectWithin(joined.phases[0]?.rangeStartM.value, 100, 0.3, '101.5 m, moved by 1.5 m');
    expect(joined.phases[0]?.startS.evidence.sources.map(({ file }) => file)).toEqual([
      'far.csv',
      'near.csv',
    ]);
    const codes = joined.notes.map(({ code }) => code);
    expect(codes).toContain('motion-joined');
    expect(codes).not.toContain('motion-of-one-source');
  });
}

test('a source whose rates are all empty is joined by its positions', () => {
  const { far, near } = flown('yes');
  const first = part(far, 'far.csv', { toS: MEET_S - 1 });
  const channels = first.channels.map((each) =>
    each.as.startsWith('velocity.') ? { ...each, values: each.values.map(() => Number.NaN) } : each,
  );
  const joined = run({ ...first, channels }, part(near, 'near.csv', { fromS: MEET_S }));
  expect(joined.notes.map(({ code }) => code)).toContain('motion-joined');
  expectWithin(joined.phases[0]?.rangeStartM.value, 100, 0.3, 'where the flight begins');
});

test('what was flown between two sources while neither speaks is no step', () => {
  // 0.1 m/s faster for 30 of 40 s, up and back at the plan's 0.01 m/s2: 2 m more than at the rates on either side.
  const axial = axialMotion(100, [
    { forS: 60 },
    { forS: 20, accelMps2: -0.01 },
    { forS: 120 },
    { forS: 10, accelMps2: -0.01 },
    { forS: 10 },
    { forS: 10, accelMps2: 0.01 },
    { forS: 100 },
  ]);
  const whole = flownTelemetry({ axial, durationS: 320, stepS: 0.5, seed: 11 });
  const { dataQuality, phases } = run(
    part(whole, 'far.csv', { toS: 195 }),
    part(whole, 'near.csv', { fromS: 235 }),
  );
  expect(dataQuality.filter(({ kind }) => kind === 'step')).toEqual([]);
  const start = phases[0]?.rangeStartM;
  expectWithin(start?.value, 100, 0.3, 'as measured');
  expectWithin(start === undefined ? null : halfWidth95(start), 2, 0.2, 'it may have been a step');
});

test('three components in a single row leave the motion to the range of another source', () => {
  const whole = flownTelemetry({ ...FLIGHT, measuresVelocity: 'no', stepS: 1, seed: 11 });
  const [x, y, z] = ['x', 'y', 'z'].map((axis) =>
    whole.channels.find(({ as }) => as === `position.${axis}`),
  );
  if (x === undefined || y === undefined || z === undefined) throw new Error('no position');
  const rangeM = x.values.map((m, i) => Math.hypot(m, y.values[i] ?? 0, z.values[i] ?? 0));
  const ranging: TelemetrySource = {
    ...whole,
    file: 'range.csv',
    channels: [{ ...x, name: 'range', as: 'range', values: rangeM }],
  };
  const { phases } = run(part(whole, 'one-row.csv', { fromS: MEET_S, toS: MEET_S }), ranging);
  expect(phases[0]?.startS.evidence.sources.map(({ file }) => file)).toEqual(['range.csv']);
});

test('a fault of a joined source is told where that one names its columns otherwise', () => {
  const { far, near } = flown('yes');
  const first = part(far, 'far.csv', { toS: MEET_S - 1 });
  const channels = first.channels.map((each) => {
    const values = each.values.slice();
    if (each.as === 'position.x') values.fill(values[119] ?? Number.NaN, 120, 150);
    return { ...each, name: `far_${each.name}`, values };
  });
  const { navigation } = run({ ...first, channels }, part(near, 'near.csv', { fromS: MEET_S }));
  expect(navigation?.unused).toMatchObject([{ channel: 'far_x', fromS: 119, toS: 149 }]);
});

test('where two sources overlap, an instant is of the one whose rows are used', () => {
  const { far, near } = flown('yes');
  const checked = [part(far, 'far.csv', { toS: 300 }), part(near, 'near.csv', { fromS: 200 })];
  const parts = checked.map((source) => ({ ...NOTHING_ELSE, source, tS: source.tS }));
  // All rows of the earlier one are used, of the later those after it.
  const joins = [{ beforeS: 300, atS: 300.5 }];
  const fileAt = (atS: number) => partAt({ parts, joins }, atS)?.source.file;
  expect([100, 250, 300.5, 900].map(fileAt)).toEqual([
    'far.csv',
    'far.csv',
    'near.csv',
    'near.csv',
  ]);
});
