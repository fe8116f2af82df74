import { describe, expect, test } from 'vitest';
import { halfWidth95 } from '@/lib/core/figure';
import { listFigures } from '@/lib/core/reconstruction/list-figures';
import type { NavigationReport } from '@/lib/core/reconstruction/navigation-report';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { noteSettling } from '@/lib/core/reconstruction/settling-notes';
import type { Rule } from '@/lib/core/session/rule';
import type { SessionInput, TelemetrySource } from '@/lib/core/session/session-input';
import { expectWithin } from '../../support/expect-within';
import {
  channel,
  FLOWN_PLAN,
  flownSession,
  flownTelemetry,
  gaussian,
  plannedArrival,
  sessionOf,
  TEST_ENGINE,
  telemetrySource,
} from '../../support/flown-session';
import { RATE_RULE } from '../../support/rate-rule';
import { sampleFigure } from '../../support/sample-figure';
import { sampleReconstruction } from '../../support/sample-reconstruction';
import { seededRandom } from '../../support/seeded-random';

const HAND_OVER_S = 250;
const STATES = [
  { value: 1, name: 'relative GNSS', kind: 'measured', settlesS: 10 },
  { value: 2, name: 'camera', kind: 'measured', settlesS: 20 },
  { value: 3, name: 'no update', kind: 'propagated', settlesS: 5 },
] as const;

const FLIGHT = { axial: plannedArrival(), durationS: 2000 };

/** The flight as two sensors saw it: before the hand-over x stands 0.5 m further out. */
function handedOver(measuresVelocity: 'yes' | 'no' = 'yes'): TelemetrySource {
  const source = flownTelemetry({ ...FLIGHT, measuresVelocity });
  const { tS } = source;
  const channels = source.channels.map((each) =>
    each.as === 'position.x'
      ? { ...each, values: each.values.map((m, i) => ((tS[i] ?? 0) < HAND_OVER_S ? m + 0.5 : m)) }
      : each,
  );
  const mode = tS.map((atS) => (atS < HAND_OVER_S ? 1 : atS < 600 ? 2 : atS < 620 ? 3 : 2));
  return {
    ...source,
    channels: [...channels, channel('nav', 'nav', '1', mode)],
    declared: {
      ...source.declared,
      points: 'port to port',
      accuracy: { position: 0.3, 'velocity.x': 0.001 },
      navigation: { selector: 'nav', states: STATES },
    },
  };
}

/** A range by another sensor once a second: 12 cm too long, 3 cm of noise. */
function rangefinder(): TelemetrySource {
  const random = seededRandom(77);
  const tS = Float64Array.from({ length: 860 }, (_, i) => i);
  const rangeM = tS.map((atS) => FLIGHT.axial(atS).xM + 0.12 + 0.03 * gaussian(random));
  return telemetrySource(tS, [channel('r', 'range', 'm', rangeM)], {
    file: 'laser.csv',
    sha256: 'e'.repeat(64),
  });
}

function run(sources: SessionInput['sources'], rules: readonly Rule[] = []) {
  const { reconstruction, differences } = reconstruct(
    sessionOf(sources, FLOWN_PLAN, rules),
    TEST_ENGINE,
  );
  if (reconstruction.navigation === null) throw new Error('a motion was estimated');
  return { ...reconstruction, navigation: reconstruction.navigation, differences };
}

describe('a solution handed over from one sensor to another', () => {
  const whole = run(
    [handedOver(), rangefinder()],
    [{ ...RATE_RULE, limit: { kind: 'constant', value: 0.5 }, within: null }],
  );
  const { navigation, rules, exceedances, dataQuality, differences } = whole;

  test('is told as stretches of named states, propagated ones as such', () => {
    expect(navigation.selector).toBe('nav');
    expect(navigation.feeds.map(({ name, kind }) => [name, kind])).toEqual([
      ['relative GNSS', 'measured'],
      ['camera', 'measured'],
      ['no update', 'propagated'],
      ['camera', 'measured'],
    ]);
    expectWithin(navigation.feeds[1]?.fromS, HAND_OVER_S, 1e-9, 'the first row of the new state');
  });

  test('steps by the size put in, inside its interval; axes without a step show none', () => {
    const [first, second, third] = navigation.steps;
    expect(navigation.steps).toHaveLength(3);
    const [x, y, z] = first?.axes ?? [];
    const half = x?.positionM ? (halfWidth95(x.positionM) ?? 0) : 0;
    expectWithin(x?.positionM?.value, -0.5, 1.5 * half, 'noise of two lines');
    expect(half).toBeLessThan(0.1);
    for (const jump of [y?.positionM, z?.positionM, x?.velocityMps, second?.axes[0]?.positionM]) {
      if (!jump) throw new Error('each axis was measured');
      expectWithin(jump.value, 0, 1.6 * (halfWidth95(jump) ?? 0), 'noise of two lines');
    }
    expect(first?.isMoved).toBe(true);
    expect(third?.isMoved).toBe(false);
    expect(dataQuality.filter(({ kind }) => kind === 'step')).toHaveLength(1);
  });

  test('has a key for each step and each second range', () => {
    const keys = [...listFigures(whole).keys()];
    expect(keys).toContain('solution_steps[0].position_x_m');
    expect(keys).toContain('second_range[laser.csv].bias_m');
    expect(keys).toContain('profile[to-30, piece 1, 98 to 80 m].behind_plan_s');
  });

  test('makes no exceedance', () => {
    expect(exceedances).toEqual([]);
    expect(rules[0]?.verdict).toBe('met');
  });

  test('gives the differences that the bias is a mean of, at the seconds of the other sensor', () => {
    const [pair] = navigation.pairs;
    const [kept] = differences;
    expect([differences.length, kept?.second, kept?.everySample]).toEqual([1, 'laser.csv', 1]);
    if (kept === undefined) throw new Error('there are two ranges');
    expect([kept.tS.length, kept.rangeM.length, kept.differenceM.length]).toEqual(
      [0, 1, 2].map(() => pair?.count),
    );
    const mean = kept.differenceM.reduce((sum, m) => sum + m, 0) / kept.differenceM.length;
    expectWithin(mean, pair?.biasM.value ?? Number.NaN, 1e-9, 'the same sum in another order');
    expect(kept.tS.every((atS) => Number.isInteger(atS))).toBe(true);
    // The truth of that second: the estimate is off by its noise and the step, the laser by its own.
    expectWithin(
      kept.rangeM[100],
      FLIGHT.axial(kept.tS[100] ?? 0).xM,
      0.1,
      'noise of the estimate',
    );
  });

  test('is held against the other range: its bias and its scatter, each in its interval', () => {
    const [pair] = navigation.pairs;
    expect([pair?.first, pair?.second]).toEqual(['telemetry.csv', 'laser.csv']);
    if (pair === undefined) throw new Error('there are two ranges');
    const bias = pair.biasM.uncertainty?.random ?? 0;
    // The lateral offset of 0.1 m makes the range between ports up to 3 cm longer inside 1 m only.
    expectWithin(pair.biasM.value, 0.12, 2 * bias, 'noise');
    expect(bias).toBeLessThan(0.05);
    expectWithin(pair.scatterM.value, 0.03, 0.012, 'with the estimate’s own errors');
    // What the telemetry states is not shrunk by any number of samples.
    expect(pair.biasM.uncertainty?.systematic).toBe(0.3);
    expect(pair.points).toEqual({ first: 'port to port', second: null });
    expect(pair.bands.length).toBeGreaterThan(3);
  });

  test('states an accuracy beside the scatter of its samples', () => {
    const x = navigation.accuracies.find(({ channel }) => channel === 'x');
    const vx = navigation.accuracies.find(({ channel }) => channel === 'vx');
    expect([x?.stated.value, vx?.stated.value]).toEqual([0.3, 0.001]);
    // Noise of 2 mm/s, so 3.92 mm/s at 95 %: the stated 1 mm/s is too little.
    expectWithin(vx?.typical.value, 1.96 * 0.002, 0.0006, 'a median deviation of 96 values');
    expect(navigation.accuracies.map(({ channel }) => channel)).not.toContain('vy');
  });
});

test('a rule judged worst while the solution settles says so; one judged elsewhere does not', () => {
  const near: Rule = {
    ...RATE_RULE,
    id: 'near',
    within: { rangeM: [63.3, 64], axialM: null, step: null },
  };
  const far: Rule = {
    ...RATE_RULE,
    id: 'far',
    within: { rangeM: [80, 90], axialM: null, step: null },
  };
  // 250 s: 20 s of ramp over 2 m, then 170 s at 0.2 m/s: 64 m.
  const { rules } = run([handedOver()], [near, far]);
  expect(rules[0]?.explanation).toContain('In the settling time after the hand-over to camera');
  expect(rules[1]?.explanation).not.toContain('settling');
});

test('positions alone, handed over: no rate runs across the step, which a stated hand-over tells', () => {
  const rule: Rule = { ...RATE_RULE, limit: { kind: 'constant', value: 0.24 }, within: null };
  const stated = run([handedOver('no')], [rule]);
  expect(stated.exceedances).toEqual([]);
  expect(stated.dataQuality.filter(({ kind }) => kind === 'step')).toHaveLength(1);
  // Before the hand-over the range is the later solution's: 100 m at rest, not 100.5 m.
  const atRest = stated.approach?.stations[0];
  expectWithin(
    atRest?.rangeM.value,
    100,
    0.15,
    'two lines over 10 s of positions with 7 cm of noise',
  );
});

test('positions alone: a step that nobody stated is named, and leaves phases and verdicts', () => {
  // 0.2 m/s is flown; in 11 cm of noise a jump of 4 cm/s that is taken back may hide.
  const rule: Rule = { ...RATE_RULE, limit: { kind: 'constant', value: 0.28 }, within: null };
  const flight = flownTelemetry({ ...FLIGHT, durationS: 350, measuresVelocity: 'no' });
  /** The same noise, with x by so much farther out until an instant. */
  const stepped = (sizeM: number, untilS: number): TelemetrySource => ({
    ...flight,
    channels: flight.channels.map((each) =>
      each.as === 'position.x'
        ? {
            ...each,
            values: each.values.map((m, i) => m + ((flight.tS[i] ?? 0) < untilS ? sizeM : 0)),
          }
        : each,
    ),
  });
  const bare = run([flight], [rule]);
  expect(bare.navigation.steps).toEqual([]);
  expect([bare.rules[0]?.verdict, bare.exceedances]).toEqual(['met', []]);
  const motions = bare.phases.map(({ motion }) => motion);
  for (const [sizeM, untilS] of [
    [0.5, HAND_OVER_S],
    [-0.5, 30],
  ] as const) {
    const { phases, rules, exceedances, navigation } = run([stepped(sizeM, untilS)], [rule]);
    expect(phases.map(({ motion }) => motion)).toEqual(motions);
    expect([rules[0]?.verdict, exceedances]).toEqual(['met', []]);
    phases.forEach(({ startS }, k) => {
      const was = bare.phases[k]?.startS;
      const half = was ? (halfWidth95(was) ?? 0) : 0;
      expectWithin(startS.value, was?.value ?? Number.NaN, half, 'the same noise');
    });
    const [step] = navigation.steps;
    expect([navigation.steps.length, step?.handOver, step?.isMoved]).toEqual([1, null, true]);
    expectWithin(step?.atS.value, untilS - 0.1, 1e-6, 'between two rows');
    const size = step?.axes[0]?.positionM;
    if (!size) throw new Error('x was measured');
    expectWithin(size.value, -sizeM, 1.5 * (halfWidth95(size) ?? 0), 'noise of two lines');
  }
});

test('without a selector the source is its own feed, cut at its gaps', () => {
  const session = flownSession({ ...FLIGHT, gapS: [300, 340] });
  const { navigation } = run(session.sources);
  expect(navigation.selector).toBeNull();
  expect(navigation.steps).toEqual([]);
  expect(navigation.feeds.map(({ name }) => name)).toEqual(['telemetry.csv', 'telemetry.csv']);
  expect(navigation.unused.map(({ what }) => what)).toEqual(['gap']);
});

test('a value that no state explains is said, and is no sensor', () => {
  const source = handedOver();
  const channels = source.channels.map((each) =>
    each.name === 'nav' ? { ...each, values: each.values.map((v) => (v === 3 ? 9 : v)) } : each,
  );
  const { navigation } = run([{ ...source, channels }]);
  expect(navigation.feeds[2]).toMatchObject({ kind: 'unknown', name: 'value 9, not explained' });
});

test('hand-overs near one exceedance are told in one sentence, two by name', () => {
  const at = (atS: number, to: string): NavigationReport['steps'][number] => ({
    atS: sampleFigure(atS, 's', 0.1, { from: atS - 0.1, to: atS }),
    handOver: { from: 'a', to, settlesS: 20 },
    axes: [],
    isMoved: false,
  });
  const navigation = run([handedOver()]).navigation;
  if (navigation === null) throw new Error('the flight has one');
  const steps = [at(100, 'one'), at(150, 'two'), at(200, 'three'), at(250, 'four')];
  const [result] = sampleReconstruction.rules;
  const [exceedance] = sampleReconstruction.exceedances;
  if (result === undefined || exceedance === undefined) throw new Error('the sample has both');
  const noted = noteSettling(
    [{ ...result, id: 'rate', unit: 'm/s', margin: sampleFigure(-0.1, 'm/s'), atS: 160 }],
    [{ ...exceedance, rule: 'rate', startS: sampleFigure(90, 's'), endS: sampleFigure(300, 's') }],
    { ...navigation, steps },
  );
  expect(noted[0]?.explanation.slice(result.explanation.length)).toBe(
    ' In the settling time after the hand-over to two at 00:02:30.0 lies its worst moment.' +
      ' In the settling time after the hand-over to one at 00:01:40.0, the hand-over to two at 00:02:30.0' +
      ' and 2 more lies an exceedance.',
  );
  const beside = noteSettling(
    [{ ...result, id: 'rate', unit: 'm/s', margin: sampleFigure(-0.1, 'm/s'), atS: 160 }],
    [{ ...exceedance, rule: 'rate', startS: sampleFigure(155, 's'), endS: sampleFigure(165, 's') }],
    { ...navigation, steps },
  );
  expect(beside[0]?.explanation.slice(result.explanation.length)).toBe(
    ' In the settling time after the hand-over to two at 00:02:30.0 lie its worst moment and an exceedance.',
  );
});
