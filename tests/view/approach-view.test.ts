import { describe, expect, test } from 'vitest';
import type { Figure } from '@/lib/core/figure';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { nameFromId } from '@/lib/core/session/name-from-id';
import type { Rule } from '@/lib/core/session/rule';
import { type ApproachTrack, nearStartS, type PartRange } from '@/lib/view/approach/approach-track';
import { approachView, readNear } from '@/lib/view/approach/approach-view';
import { deviationGroups } from '@/lib/view/approach/deviation-rows';
import { momentOf, partNear, partOf, readingsAt, readMoment } from '@/lib/view/approach/moment';
import { clearanceSentence, stationRows } from '@/lib/view/approach/station-rows';
import { sentenceText } from '@/lib/view/sentence';
import { flownSession, plannedArrival, TEST_ENGINE } from '../support/flown-session';
import { RATE_RULE } from '../support/rate-rule';
import { sampleFigure } from '../support/sample-figure';

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
const PARTS = 300;

const flown = reconstruct(
  flownSession({ axial: plannedArrival(), durationS: 2000, rules: [CORRIDOR, RATE_RULE] }),
  TEST_ENGINE,
);

/** The derived columns in equal parts, as the sample store gives them. */
function trackOf(): ApproachTrack {
  const { derived } = flown;
  const fromS = derived.tS[0] ?? 0;
  const partS = ((derived.tS[derived.tS.length - 1] ?? 0) - fromS) / PARTS;
  const columns = derived.columns.map(({ name, values }): [string, PartRange] => {
    const low = new Float64Array(PARTS).fill(Number.NaN);
    const high = new Float64Array(PARTS).fill(Number.NaN);
    values.forEach((value, row) => {
      const part = Math.min(PARTS - 1, Math.floor(((derived.tS[row] ?? 0) - fromS) / partS));
      if (Number.isNaN(value)) return;
      low[part] = Math.min(low[part] || value, value);
      high[part] = Math.max(high[part] || value, value);
    });
    return [name, { low, high }];
  });
  const tS = Float64Array.from({ length: PARTS }, (_, part) => fromS + (part + 0.5) * partS);
  return { tS, columns: new Map(columns) };
}

const track = trackOf();
const about = { sessionId: 's', nearM: null };
const view = approachView(flown.reconstruction, track, about);

describe('the pictures of an approach', () => {
  test('are four, each with a name, a text for who does not see it, and its scale said', () => {
    expect(view.pictures.map(({ id }) => id)).toEqual(['side', 'above', 'along', 'rate']);
    for (const picture of view.pictures) expect(picture.label.length).toBeGreaterThan(40);
    const [side, above, along] = view.pictures;
    expect(side?.caption).toMatch(/stretched \d+ times/);
    expect(above?.caption).toMatch(/stretched \d+ times/);
    expect(along?.caption).toContain('Both ways on one scale');
  });

  test('mark one moment at the same flight in each', () => {
    const part = partOf(view.moment, 300);
    if (part === null) throw new Error('the flight lasts longer');
    for (const picture of view.pictures) {
      const place = picture.places[part] ?? null;
      if (place === null) throw new Error(`no place in ${picture.id}`);
      // What is under the pointer there is that moment again, or one that lies on it to a pixel.
      const found = partNear(picture, { x: place[0], y: place[1] }, part);
      const again = picture.places[found ?? -1] ?? [0, 0];
      expect(Math.hypot(again[0] - place[0], again[1] - place[1])).toBeLessThanOrEqual(0.5);
    }
    const readings = new Map(readingsAt(view.moment, part).map(({ label, text }) => [label, text]));
    // At 300 s the flight is 220 s past its 20 s ramp: 100 - 2 - 44 m, at 0.2 m/s.
    expect(Number.parseFloat(readings.get('range') ?? '')).toBeCloseTo(54, -0.2);
    expect(readings.get('closing')).toMatch(/^\+0\.(19|20)\d m\/s$/);
    expect(readings.get('planned')).toBe('+0.200 m/s');
  });

  test('of what is near have their own scale and start when it was first reached', () => {
    const near = approachView(flown.reconstruction, track, { ...about, nearM: 10 });
    const [side] = near.pictures;
    expect(side?.xTicks.map(({ text }) => text)).toEqual(['0', '2', '4', '6', '8']);
    const startS = nearStartS(track, 10);
    const first = track.columns.get('axial_distance')?.low;
    const part = partOf(view.moment, startS) ?? 0;
    expect(first?.[part]).toBeLessThanOrEqual(10);
    expect(first?.[part - 2]).toBeGreaterThan(10);
  });

  test('without positions across the axis are the closing rate alone, and say so', () => {
    const bare = new Map([...track.columns].filter(([name]) => !/offset|axial/.test(name)));
    const view = approachView(flown.reconstruction, { ...track, columns: bare }, about);
    expect(view.pictures.map(({ id }) => id)).toEqual(['rate']);
    expect(view.absent).toHaveLength(1);
  });
});

test('a band written in the general form is a corridor, and both of its rates are drawn', () => {
  const when = { rangeM: null, axialM: [2, 80] as const, step: null, mode: null };
  const band = { kind: 'band' as const, statement: '', when, persistsS: 0 };
  const ruleSet: readonly Rule[] = [
    {
      ...band,
      id: 'tube',
      quantity: { kind: 'named', name: 'lateral_offset' },
      low: null,
      high: { kind: 'constant', value: 0.2 },
      unit: 'm',
    },
    {
      ...band,
      id: 'rates',
      quantity: { kind: 'named', name: 'closing_rate' },
      low: { kind: 'constant', value: 0.05 },
      high: { kind: 'constant', value: 0.22 },
      unit: 'm/s',
    },
  ];
  const drawn = approachView({ ...flown.reconstruction, ruleSet }, track, about);
  const [, , along, rate] = drawn.pictures;
  expect(along?.texts.map(({ text }) => text)).toContain('limit 0.20 m');
  expect(rate?.lines.filter(({ tone }) => tone === 'limit')).toHaveLength(2);
});

test('names of bounds and profiles near the port do not stand on each other', () => {
  const when = { rangeM: [0, 18] as const, axialM: null, step: null, mode: null };
  const rates: Rule = {
    ...{ kind: 'band', id: 'rates-of-the-final-part', statement: '', when, persistsS: 0 },
    quantity: { kind: 'named', name: 'closing_rate' },
    low: { kind: 'constant', value: 0.05 },
    high: { kind: 'constant', value: 0.09 },
    unit: 'm/s',
  };
  const drawn = approachView({ ...flown.reconstruction, ruleSet: [rates] }, track, about);
  const texts = drawn.pictures.at(-1)?.texts ?? [];
  expect(texts.length).toBeGreaterThanOrEqual(3);
  const apart = texts.flatMap((one, index) =>
    texts.slice(index + 1).map((other) => {
      const [left, right] = one.x < other.x ? [one, other] : [other, one];
      return Math.abs(one.y - other.y) > 15 || left.x + left.text.length * 6.9 <= right.x;
    }),
  );
  expect(apart).not.toContain(false);
});

test('tables hold a row for each station and set ramps apart', () => {
  expect(view.stations.map(({ name }) => name)).toContain('Least clearance');
  expect(view.stations.at(-1)?.name).toBe('Contact');
  const [first] = view.deviations;
  expect(first?.name).toBe('To 30');
  expect(first?.rows.filter(({ isApart }) => isApart).map(({ part }) => part)).toEqual([
    'speeding up',
    'braking',
  ]);
});

test('the head says that the corridor was left where that is sure', () => {
  const said = (metres: number, half: number): string => {
    const stations = flown.reconstruction.approach?.stations.map((station) =>
      station.kind === 'least-clearance'
        ? { ...station, clearanceM: sampleFigure(metres, 'm', half) }
        : station,
    );
    const approach = { deviations: [], stations: stations ?? [] };
    const shown = approachView({ ...flown.reconstruction, approach }, track, about);
    return sentenceText(shown.clearance);
  };
  expect(said(-0.757, 0.008)).toMatch(
    /^The corridor was left\. Least clearance .* −0\.757 ± 0\.008 m/,
  );
  expect(said(0.4, 0.1)).toMatch(/^Least clearance/);
  expect(said(-0.05, 0.1)).toMatch(/^Too close to call/);
});

test('an address that asks for no moment or a wrong one marks none', () => {
  expect([readMoment('990.5'), readMoment(' '), readMoment('x'), readMoment(undefined)]).toEqual([
    990.5,
    null,
    null,
    null,
  ]);
  expect([readNear('42'), readNear('-1'), readNear('x')]).toEqual([42, null, null]);
  expect(partOf(view.moment, 1e6)).toBeNull();
  expect(partOf(view.moment, momentOf(view.moment, 7))).toBe(7);
});

test('of a departure the last hold is the whole, and the first one a part of it', () => {
  const plan = flown.reconstruction.plan;
  if (plan === null) throw new Error('the flight has a plan');
  const out = (id: string, fromM: number, toM: number) => ({
    kind: 'move' as const,
    id,
    toM,
    plannedS: 300,
    closingRateMps: [
      [fromM, -0.2],
      [toM, -0.2],
    ] as const,
    toleranceMps: 0.05,
  });
  const hold = (holdM: number) => ({
    kind: 'hold' as const,
    id: `hold-${holdM}`,
    holdM,
    toleranceM: 2,
    plannedS: 60,
  });
  const away = {
    ...plan,
    steps: [hold(20), out('a', 20, 60), hold(60), out('b', 60, 250), hold(250)],
  };
  const { near } = approachView({ ...flown.reconstruction, plan: away }, track, about);
  expect(near.map(({ text }) => text)).toEqual([
    'Whole departure',
    'First 62 m',
    'First 22 m',
    'First 10 m',
  ]);
});

test('time outside the tolerance is marked where it surely is some, as on Phases', () => {
  const { approach } = flown.reconstruction;
  if (approach === null) throw new Error('no approach');
  const marked = (outsideS: Figure): boolean[] => {
    const deviations = approach.deviations.map((each) => ({ ...each, outsideS }));
    const groups = deviationGroups(
      { ...flown.reconstruction, approach: { ...approach, deviations } },
      's',
    );
    return groups
      .flatMap(({ rows }) => rows.filter(({ isApart }) => !isApart))
      .map((row) => row.isOutside);
  };
  expect(new Set(marked(sampleFigure(3, 's', 0.5)))).toEqual(new Set([true]));
  expect(new Set(marked(sampleFigure(0.3, 's', 0.5)))).toEqual(new Set([false]));
});

test('the rates of a move flown in pieces stand under the name of each piece', () => {
  const { approach, phases, steps } = flown.reconstruction;
  const [moved] = approach?.deviations ?? [];
  const at = phases.findIndex(({ step }) => step === moved?.step);
  const run = phases[at];
  if (
    approach === null ||
    moved === undefined ||
    run?.startS.value == null ||
    run.endS.value == null
  )
    throw new Error('the flight has a move with deviations');
  const middleS = (run.startS.value + run.endS.value) / 2;
  const middle = { ...run.startS, value: middleS };
  const seen = (fromS: number, toS: number) => {
    const evidence = { ...moved.deviationMps.evidence, fromS, toS };
    return { ...moved.deviationMps, evidence };
  };
  const groups = deviationGroups(
    {
      ...flown.reconstruction,
      steps: steps.map((step) => (step.id === moved.step ? { ...step, pieces: 2 } : step)),
      phases: [
        ...phases.slice(0, at),
        { ...run, piece: 1, endS: middle },
        { ...run, piece: 2, startS: middle },
        ...phases.slice(at + 1),
      ],
      approach: {
        ...approach,
        deviations: [
          { ...moved, piece: 1, deviationMps: seen(run.startS.value, middleS - 1) },
          { ...moved, piece: 2, deviationMps: seen(middleS, run.endS.value) },
        ],
      },
    },
    's',
  );
  const name = nameFromId(moved.step);
  expect(groups.map((group) => group.name)).toEqual([
    `${name}, piece 1 of 2`,
    `${name}, piece 2 of 2`,
  ]);
});

test('the closing rate says what is drawn with it, and what there is none of', () => {
  const said = (of: typeof flown.reconstruction) =>
    approachView(of, track, about).pictures.find(({ id }) => id === 'rate')?.caption;
  expect(said(flown.reconstruction)).toContain('The shaded band is the plan’s profile');
  expect(said({ ...flown.reconstruction, plan: null, ruleSet: [] })).toContain(
    'No plan gives a profile; no rule bounds the closing rate.',
  );
});

test('a corridor left by a clearance whose interval is not known was left as it seems', () => {
  const { approach } = flown.reconstruction;
  if (approach === null) throw new Error('no approach');
  const said = (clearanceM: Figure): string => {
    const stations = approach.stations.map((each) => ({ ...each, clearanceM }));
    const changed = { ...flown.reconstruction, approach: { ...approach, stations } };
    return sentenceText(clearanceSentence(stationRows(changed, 's')));
  };
  expect(said(sampleFigure(-0.5, 'm', 0.1))).toMatch(/^The corridor was left\. Least .*, \d/);
  expect(said(sampleFigure(-0.5, 'm', null))).toMatch(
    /^The corridor was left, as it seems\. Least .* \(its interval is not known\), \d/,
  );
  expect(said(sampleFigure(-0.05, 'm', 0.1))).toMatch(/^Too close to call\. Least/);
});
