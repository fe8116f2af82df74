/** When the chaser was inside a declared zone: straight flights whose crossings are known in closed form. */
import { expect, test } from 'vitest';
import { type Figure, halfWidth95 } from '@/lib/core/figure';
import type { MotionEstimate } from '@/lib/core/motion/motion-estimate';
import type { SessionMotion } from '@/lib/core/reconstruction/estimated-motion';
import { listFigures } from '@/lib/core/reconstruction/list-figures';
import { reconstruct } from '@/lib/core/reconstruction/reconstruct';
import { zoneFigures } from '@/lib/core/reconstruction/zone-figures';
import { readPlanFile } from '@/lib/core/session/read-plan-file';
import type { Zone } from '@/lib/core/session/zone';
import { timelineView } from '@/lib/view/timeline';
import { FLOWN_PLAN, flownSession, plannedArrival, TEST_ENGINE } from '../../support/flown-session';
import { motionAlongAxis, rowsTo } from '../../support/motion-along-axis';

const sphere = (radiusM: number, axialM: Zone['axialM'] = null): Zone => ({
  id: 'near',
  title: 'Near zone',
  shape: { kind: 'sphere', radiusM },
  axialM,
});
const ellipsoid: Zone = {
  ...sphere(1),
  shape: { kind: 'ellipsoid', semiAxesM: [100, 50, 25] },
};

function only(zone: Zone, motion: MotionEstimate) {
  const session = { motion, origin: { sources: [], channels: ['x'] } } as unknown as SessionMotion;
  const [report] = zoneFigures([zone], session);
  if (report === undefined) throw new Error('a report a zone');
  return report;
}

/** Half-width of a figure that has to be there. */
function halfOf(figure: Figure | null | undefined): number {
  return figure == null ? Number.NaN : (halfWidth95(figure) ?? Number.NaN);
}

/** Along the axis at 0.5 m/s from 100 m, each position with a standard deviation of 10 mm. */
const inwards = (toS: number) =>
  motionAlongAxis({
    tS: rowsTo(toS, 0.7),
    axialM: (atS) => 100 - 0.5 * atS,
    closingMps: () => 0.5,
    sdM: 0.01,
  });

/** Past the target, 30 m beside the axis: x = 200 - t, y = 30. */
function past(): MotionEstimate {
  const along = motionAlongAxis({
    tS: rowsTo(399.7, 0.7),
    axialM: (atS) => 200 - atS,
    closingMps: () => 1,
  });
  const yM = new Float64Array(along.tS.length).fill(30);
  return { ...along, yM, lateralM: yM, rangeM: along.axialM.map((x) => Math.hypot(x, 30)) };
}

// By hand: 100 - 0.5 t = 40 at t = 120 s; a standard deviation of 10 mm passes at 0.5 m/s in 20 ms.
test('a straight flight enters a sphere where its range is the radius', () => {
  const { passes, insideS } = only(sphere(40), inwards(140));
  expect(passes).toHaveLength(1);
  expect(passes[0]?.enterS?.value).toBeCloseTo(120, 6);
  expect(halfOf(passes[0]?.enterS)).toBeCloseTo(1.96 * 0.02, 3);
  expect(passes[0]?.enterS?.evidence.channels).toEqual(['x']);
  expect(passes[0]?.leaveS).toBeNull();
  expect(insideS?.value).toBeCloseTo(20, 6);
});

// By hand: (x/100)^2 + (30/50)^2 = 1 gives x = 80 and -80, so 120 s and 280 s.
test('an ellipsoid is entered and left where the sum of squares is 1', () => {
  const [pass] = only(ellipsoid, past()).passes;
  expect(pass?.enterS?.value).toBeCloseTo(120, 2);
  expect(pass?.leaveS?.value).toBeCloseTo(280, 2);
  expect(pass?.insideS.value).toBeCloseTo(160, 2);
});

// By hand: a radius of 50 m is met at x = 40 and -40 (160 s and 240 s); x = 0 at 200 s.
test('axial bounds cut a zone', () => {
  expect(only(sphere(50), past()).passes[0]?.leaveS?.value).toBeCloseTo(240, 2);
  const [pass] = only(sphere(50, [0, 1000]), past()).passes;
  expect(pass?.enterS?.value).toBeCloseTo(160, 2);
  expect(pass?.leaveS?.value).toBeCloseTo(200, 6);
});

test('where the data begin or end inside there is no entry or exit, and one never reached has no stay', () => {
  const begun = only(sphere(150), inwards(140));
  expect(begun.passes[0]).toMatchObject({ fromS: 0, toS: 140, enterS: null, leaveS: null });
  expect(only(sphere(20), inwards(140))).toMatchObject({ passes: [], insideS: { value: 0 } });
});

// By hand: no rows from 105 s to 126 s; the line between them is at 40 m at 120 s, 15 s from the farther side.
test('a crossing in a gap is as uncertain as the gap is wide, and a gap ends no stay', () => {
  const whole = inwards(140);
  const isKept = (_: number, row: number) => row <= 150 || row >= 180;
  const cut = Object.fromEntries(
    Object.entries(whole).map(([key, value]) => [
      key,
      value instanceof Float64Array ? value.filter(isKept) : value,
    ]),
  ) as unknown as MotionEstimate;
  const stretches = [
    { from: 0, to: 151 },
    { from: 151, to: cut.tS.length },
  ];
  const [pass] = only(sphere(40), { ...cut, stretches }).passes;
  expect(pass?.enterS?.value).toBeCloseTo(120, 6);
  expect(halfOf(pass?.enterS)).toBeCloseTo(15, 6);
  expect(only(sphere(60), { ...cut, stretches }).passes).toHaveLength(1);
});

/** In at 0.5 m/s to 40 m, then kept there within 5 mm, with noise of 10 mm, then on inwards. */
test('wavering about the boundary within noise is one stay', () => {
  const axialM = (t: number): number => {
    if (t < 100) return 90 - 0.5 * t;
    if (t < 200) return 40 + 0.005 * Math.sin(t);
    return 40 - 0.5 * (t - 200);
  };
  const of = { tS: rowsTo(240, 0.5), axialM, closingMps: () => 0.5 };
  expect(only(sphere(40), motionAlongAxis({ ...of, sdM: 0.01 })).passes).toHaveLength(1);
  // The same wavering under a noise of 0.5 mm is real.
  const seen = only(sphere(40), motionAlongAxis({ ...of, sdM: 0.0005 })).passes;
  expect(seen.length).toBeGreaterThan(10);
});

test('a range alone tells a sphere, and says that it does not tell an ellipsoid', () => {
  const none = new Float64Array(inwards(140).tS.length).fill(Number.NaN);
  const ranged = { ...inwards(140), axialM: none, yM: none, zM: none };
  expect(only(sphere(40), ranged).passes).toHaveLength(1);
  expect(only(ellipsoid, ranged)).toMatchObject({ passes: [], insideS: null });
  expect(only(ellipsoid, ranged).notKnown).toContain('components');
});

// By hand: 60 s at 100 m, 20 s and 2 m of speeding up, then 0.2 m/s: 60 m is passed at 80 + 38 / 0.2 = 270 s.
test('zones stand in the sequence, among the figures and on a lane; without any there is none', () => {
  const flown = (plan: typeof FLOWN_PLAN) =>
    reconstruct(flownSession({ axial: plannedArrival(), durationS: 300, plan }), TEST_ENGINE)
      .reconstruction;
  const lanes = (reconstruction: ReturnType<typeof flown>) =>
    timelineView({ sessionId: 's', reconstruction, channels: [], findings: [], annotations: [] })
      .zones;
  const zoned = flown({ ...FLOWN_PLAN, zones: [sphere(60)] });
  const enter = listFigures(zoned).get('zones[near, stay 1].enter_s');
  expect(Math.abs((enter?.value ?? 0) - 270)).toBeLessThan(2 * halfOf(enter));
  expect(halfOf(enter)).toBeLessThan(1);
  const item = zoned.sequence.find(({ kind }) => kind === 'zone');
  expect(item).toMatchObject({ what: 'Enters Near zone', seen: [{ timeS: enter }] });
  expect(lanes(zoned)).toMatchObject([
    { name: 'Near zone', bars: [{ label: 'Near zone', fromS: enter?.value, toS: 300 }] },
  ]);
  const bare = flown(FLOWN_PLAN);
  expect('zones' in bare).toBe(false);
  expect(bare.sequence.some(({ kind }) => kind === 'zone')).toBe(false);
  expect(lanes(bare)).toEqual([]);
});

test('a plan file gives zones; what is wrong with one names its key', () => {
  const head =
    'plan:\n  title: T\n  hold_rate_mps: 0.02\n  hold_dwell_s: 10\n  steps: [{ id: h, hold_m: 30, tolerance_m: 2, planned_s: 60 }]\n  zones:\n';
  const good = readPlanFile(
    `${head}    - { id: keep-out, within_m: 200, axial_m: [0, 300] }\n    - { id: b, title: Outer, semi_axes_m: [400, 200, 100] }\n`,
    'plan.yaml',
  );
  expect(good.issues).toEqual([]);
  expect(good.value?.zones).toEqual([
    { ...sphere(200, [0, 300]), id: 'keep-out', title: 'Keep out' },
    {
      id: 'b',
      title: 'Outer',
      shape: { kind: 'ellipsoid', semiAxesM: [400, 200, 100] },
      axialM: null,
    },
  ]);
  const bad = readPlanFile(
    `${head}    - { id: a, within_m: -1 }\n    - { id: b, within_m: 5, axial_m: [3, 1] }\n    - { id: b, within_m: 6 }\n`,
    'plan.yaml',
  );
  expect(bad.value).toBeNull();
  expect(bad.issues.map(({ line, keyPath }) => [line, keyPath])).toEqual([
    [7, 'plan.zones[0].within_m'],
    [8, 'plan.zones[1].axial_m'],
    [9, 'plan.zones[2].id'],
  ]);
});
