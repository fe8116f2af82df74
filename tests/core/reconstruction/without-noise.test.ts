import { expect, test } from 'vitest';
import { halfWidth95 } from '@/lib/core/figure';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import type { Plan } from '@/lib/core/session/plan';
import {
  axialMotion,
  channel,
  FLOWN_PLAN,
  moveParts,
  sessionOf,
  TEST_ENGINE,
  telemetrySource,
} from '../../support/flown-session';
import { RATE_RULE } from '../../support/rate-rule';

const STEP_S = 0.2;
const ROWS = 5_420; // to 1083.8 s: a second before the port

/** A hold, 112 m at 0.2 m/s, a hold, then 38 m at 0.1 m/s; all with 0.01 m/s2. */
const axial = axialMotion(150, [
  ...moveParts(0.2, 112, 60),
  { forS: 60 },
  { forS: 10, accelMps2: -0.01 },
  { forS: 400 },
]);

const PLAN: Plan = {
  ...FLOWN_PLAN,
  steps: FLOWN_PLAN.steps.map((step) => ({
    ...step,
    ...(step.kind === 'hold' ? { holdM: step.holdM === 100 ? 150 : 38 } : {}),
    ...(step.id === 'to-30' ? { toM: 38 } : {}),
  })),
};

/** Telemetry of a simulator: the arrival as it is by its closed form, no noise, written in so many decimals. */
function clean(decimals: number | null, flown = axial) {
  const written = (value: number): number =>
    decimals === null ? value : Number(value.toFixed(decimals));
  const column = (at: (timeS: number) => number): Float64Array =>
    Float64Array.from({ length: ROWS }, (_, row) => written(at(row * STEP_S)));
  return telemetrySource(
    Float64Array.from({ length: ROWS }, (_, row) => row * STEP_S),
    [
      channel(
        'x',
        'position.x',
        'm',
        column((s) => flown(s).xM),
      ),
      channel(
        'y',
        'position.y',
        'm',
        column((s) => 0.1 * Math.sin(s / 50)),
      ),
      channel(
        'z',
        'position.z',
        'm',
        column((s) => 0.05 * Math.cos(s / 70)),
      ),
      channel(
        'vx',
        'velocity.x',
        'm/s',
        column((s) => flown(s).vMps),
      ),
      channel(
        'vy',
        'velocity.y',
        'm/s',
        column((s) => 0.002 * Math.cos(s / 50)),
      ),
      channel(
        'vz',
        'velocity.z',
        'm/s',
        column((s) => (-0.05 / 70) * Math.sin(s / 70)),
      ),
    ],
  );
}

/**
 * By hand, with a hold under 0.02 m/s: the first move begins 2 s after 60 s and ends 2 s before 640 s, the second begins 2 s after
 * 700 s; its ramp of 10 s is 0.5 m, the other 37.5 m take 375 s.
 */
const EDGES_S = [62, 638, 702];
const CONTACT_S = 1085;

test.each([null, 6, 3])(
  'data without noise in %s decimals have edges to hundredths',
  (decimals) => {
    const session = sessionOf([clean(decimals)], PLAN);
    const { reconstruction } = reconstruct(session, TEST_ENGINE);
    expect(reconstruction.phases.map(({ step }) => step)).toEqual([
      'hold-100',
      'to-30',
      'hold-30',
      'final',
    ]);
    const edges = reconstruction.phases.slice(1).map(({ startS }) => startS);
    edges.forEach((edge, k) => {
      expect(Math.abs((edge.value ?? 0) - (EDGES_S[k] ?? 0))).toBeLessThan(0.02);
      expect(halfWidth95(edge) ?? Number.NaN).toBeLessThan(0.2);
    });
    const { contact } = reconstruction;
    expect(Math.abs((contact?.timeS.value ?? 0) - CONTACT_S)).toBeLessThan(0.02);
    expect(contact === null ? null : halfWidth95(contact.timeS)).toBeLessThan(0.1);
  },
);

/** Positions alone, with rests that repeat to the digit: a row a fifth of a second, and one a second. */
test.each([
  { decimals: null, stepS: 1 },
  { decimals: 4, stepS: STEP_S },
  { decimals: 4, stepS: 1 },
])('positions without noise alone have edges to hundredths: $decimals, $stepS', (written) => {
  const session = sessionOf([positionsOf(clean(written.decimals), written.stepS)], PLAN);
  const { reconstruction } = reconstruct(session, TEST_ENGINE);
  expect(reconstruction.dataQuality).toEqual([]);
  const edges = reconstruction.phases.slice(1).map(({ startS }) => startS);
  expect(edges.length).toBe(3);
  edges.forEach((edge, k) => {
    const edgeS = EDGES_S[k] ?? 0;
    expect(Math.abs((edge.value ?? 0) - edgeS)).toBeLessThan(0.02);
    expect(halfWidth95(edge) ?? Number.NaN).toBeLessThan(0.1);
    // Between rows a second apart a straight line would be off by up to 1.25 mm.
    const across = Math.hypot(0.1 * Math.sin(edgeS / 50), 0.05 * Math.cos(edgeS / 70));
    const rangeM = reconstruction.phases[k + 1]?.rangeStartM.value ?? 0;
    expect(Math.abs(rangeM - Math.hypot(axial(edgeS).xM, across))).toBeLessThan(3e-4);
  });
  const { contact } = reconstruction;
  expect(Math.abs((contact?.timeS.value ?? 0) - CONTACT_S)).toBeLessThan(0.005);
  expect(contact?.conditions.lateral_rate?.value ?? Number.NaN).toBeLessThan(0.003);
});

/** The positions of a source, every so many seconds. */
function positionsOf(source: ReturnType<typeof clean>, stepS: number): ReturnType<typeof clean> {
  const every = Math.round(stepS / STEP_S);
  const some = (values: Float64Array): Float64Array =>
    values.filter((_, row) => row % every === (ROWS - 1) % every);
  return {
    ...source,
    tS: some(source.tS),
    channels: source.channels
      .filter(({ as }) => as.startsWith('position.'))
      .map((each) => ({ ...each, values: some(each.values) })),
  };
}

/** Three moves that begin and end at once, between two rows: the way of the velocity's rows is off by up to 2 cm each time. */
const MOVES_S = [
  [60.07, 300.03],
  [360.11, 500.13],
  [560.19, 640.01],
] as const;
const RATE_MPS = 0.2;

function wayM(atS: number): number {
  const movedS = MOVES_S.map(([fromS, toS]) => Math.max(0, Math.min(atS, toS) - fromS));
  return RATE_MPS * movedS.reduce((sum, each) => sum + each, 0);
}

test.each([STEP_S, 1])(
  'a velocity of two values beside positions in millimetres, a row each %s s',
  (stepS) => {
    const tS = Float64Array.from({ length: Math.round(1000 / stepS) }, (_, row) => row * stepS);
    const still = new Float64Array(tS.length);
    const isMoving = (atS: number): boolean =>
      MOVES_S.some(([fromS, toS]) => atS >= fromS && atS < toS);
    const source = telemetrySource(tS, [
      channel(
        'x',
        'position.x',
        'm',
        tS.map((atS) => Number((150 - wayM(atS)).toFixed(3))),
      ),
      channel(
        'y',
        'position.y',
        'm',
        still.map(() => 0.01),
      ),
      channel(
        'z',
        'position.z',
        'm',
        still.map(() => 0.02),
      ),
      channel(
        'vx',
        'velocity.x',
        'm/s',
        tS.map((atS) => (isMoving(atS) ? -RATE_MPS : 0)),
      ),
      channel('vy', 'velocity.y', 'm/s', still),
      channel('vz', 'velocity.z', 'm/s', still),
    ]);
    const { reconstruction } = reconstruct(sessionOf([source], PLAN), TEST_ENGINE);
    const rates = reconstruction.phases.map(
      ({ meanClosingRateMps }) => meanClosingRateMps.value ?? 9,
    );
    expect(rates.length).toBe(7);
    rates.forEach((rate, k) => {
      expect(Math.abs(rate - (k % 2 === 1 ? RATE_MPS : 0))).toBeLessThan(0.01);
    });
    expect(reconstruction.dataQuality).toEqual([]);
    const edges = reconstruction.phases.slice(1).map(({ startS }) => startS);
    edges.forEach((edge, k) => {
      const half = halfWidth95(edge) ?? Number.NaN;
      expect(Math.abs((edge.value ?? 0) - (MOVES_S.flat()[k] ?? 0))).toBeLessThanOrEqual(half);
      expect(half).toBeLessThanOrEqual(stepS);
    });
  },
);

test('a steady excess that is the highest rate of clean data is motion, no sensor at the end of its range', () => {
  // Slower all the way by 1e-4 m/s2, but for six rows at 0.3 m/s; the rule allows 0.25 m/s.
  const flown = axialMotion(150, [
    { forS: 300, jumpMps: -0.2, accelMps2: 1e-4 },
    { forS: 1.2, jumpMps: -0.13 },
    { forS: 800, jumpMps: 0.13, accelMps2: 1e-4 },
  ]);
  const source = clean(5, flown);
  const { exceedances, dataQuality, rules } = reconstruct(
    sessionOf([source], PLAN, [
      { ...RATE_RULE, limit: { kind: 'constant', value: 0.25 }, persistsS: 0 },
    ]),
    TEST_ENGINE,
  ).reconstruction;
  expect(dataQuality).toEqual([]);
  expect(exceedances.length).toBe(1);
  expect(rules[0]?.verdict).toBe('broken');
});
