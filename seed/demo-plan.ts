/** The plan of the invented flight: what the controller flies and what plan.yaml says. */
import { type CapturePlan, DEFAULT_CAPTURE } from '@/lib/core/session/capture-plan';
import type { HoldStep, MoveStep, Plan, RangeProfile } from '@/lib/core/session/plan';
import type { Zone } from '@/lib/core/session/zone';

export const HOLD_FAR: HoldStep = {
  kind: 'hold',
  id: 'hold-300',
  holdM: 300,
  toleranceM: 5,
  plannedS: 360,
};
export const MOVE_NEAR: MoveStep = {
  kind: 'move',
  id: 'to-40',
  toM: 40,
  plannedS: 910,
  closingRateMps: [
    [300, 0.4],
    [150, 0.3],
    [40, 0.2],
  ],
  toleranceMps: 0.04,
};
export const HOLD_NEAR: HoldStep = {
  kind: 'hold',
  id: 'hold-40',
  holdM: 40,
  toleranceM: 2,
  plannedS: 300,
};
export const FINAL: MoveStep = {
  kind: 'move',
  id: 'final',
  toM: 0,
  plannedS: 430,
  closingRateMps: [
    [40, 0.12],
    [25, 0.12],
    [20, 0.08],
    [0, 0.08],
  ],
  toleranceMps: 0.02,
};

/** Planned seconds after first touch, and how far off each may be. */
const PLANNED_CAPTURE = {
  soft_capture: [5, 5],
  damping: [60, 60],
  ring_retraction: [180, 30],
  hard_capture: [360, 60],
} as const;

const DEMO_CAPTURE: CapturePlan = {
  ...DEFAULT_CAPTURE,
  stages: DEFAULT_CAPTURE.stages.map((stage) => {
    const [afterContactS, toleranceS] = PLANNED_CAPTURE[stage.stage];
    return { ...stage, afterContactS, toleranceS };
  }),
};

/** Invented, as all of the demo. */
const DEMO_ZONES: readonly Zone[] = [
  {
    id: 'approach-zone',
    title: 'Approach zone',
    shape: { kind: 'ellipsoid', semiAxesM: [250, 150, 150] },
    axialM: null,
  },
  {
    id: 'keep-out',
    title: 'Keep-out sphere',
    shape: { kind: 'sphere', radiusM: 100 },
    axialM: null,
  },
];

export const DEMO_PLAN: Plan = {
  title: 'Arrival from ahead with holds at 300 m and 40 m',
  holdRateMps: 0.02,
  holdDwellS: 10,
  holdCrossSpeedMps: null,
  accelerationMps2: 0.01,
  contactAxialM: 0.25,
  steps: [HOLD_FAR, MOVE_NEAR, HOLD_NEAR, FINAL],
  capture: DEMO_CAPTURE,
  zones: DEMO_ZONES,
};

const ASCENDING = new Map<RangeProfile, RangeProfile>();

/** The profile's points from the nearest on, sorted once. */
function ascendingPoints(profile: RangeProfile): RangeProfile {
  const known = ASCENDING.get(profile);
  if (known !== undefined) return known;
  const sorted = [...profile].sort((left, right) => left[0] - right[0]);
  ASCENDING.set(profile, sorted);
  return sorted;
}

/** Planned closing rate at a range, m/s: linear between the profile's points, held outside them. */
export function plannedRateMps(profile: RangeProfile, rangeM: number): number {
  const ascending = ascendingPoints(profile);
  let below = ascending[0];
  for (const point of ascending) {
    if (point[0] >= rangeM) {
      if (below === undefined || point[0] === below[0]) return point[1];
      return below[1] + ((rangeM - below[0]) / (point[0] - below[0])) * (point[1] - below[1]);
    }
    below = point;
  }
  return below?.[1] ?? 0;
}

function stepLine(step: HoldStep | MoveStep): string {
  if (step.kind === 'hold') {
    return `{ id: ${step.id}, hold_m: ${step.holdM}, tolerance_m: ${step.toleranceM}, planned_s: ${step.plannedS} }`;
  }
  const points = step.closingRateMps.map(([rangeM, rate]) => `[${rangeM}, ${rate.toFixed(2)}]`);
  return `{ id: ${step.id}, to_m: ${step.toM}, planned_s: ${step.plannedS}, closing_rate_mps: [${points.join(', ')}], tolerance_mps: ${step.toleranceMps} }`;
}

function zoneLine({ id, title, shape }: Zone): string {
  const size =
    shape.kind === 'sphere'
      ? `within_m: ${shape.radiusM}`
      : `semi_axes_m: [${shape.semiAxesM.join(', ')}]`;
  return `    - { id: ${id}, title: ${title}, ${size} }`;
}

function captureLine(stage: keyof typeof PLANNED_CAPTURE): string {
  const [afterS, toleranceS] = PLANNED_CAPTURE[stage];
  return `    ${stage}: { after_contact_s: ${afterS}, tolerance_s: ${toleranceS} }`;
}

/** The text of plan.yaml. */
export function planYaml(): string {
  return [
    '# The capture ring stands out 0.25 m, so first touch is 0.25 m before the ports meet.',
    'plan:',
    `  title: ${DEMO_PLAN.title}`,
    `  hold_rate_mps: ${DEMO_PLAN.holdRateMps}`,
    `  hold_dwell_s: ${DEMO_PLAN.holdDwellS}`,
    `  acceleration_mps2: ${DEMO_PLAN.accelerationMps2}`,
    `  contact_axial_m: ${DEMO_PLAN.contactAxialM}`,
    '  steps:',
    ...DEMO_PLAN.steps.map((step) => `    - ${stepLine(step)}`),
    '  capture:',
    ...DEFAULT_CAPTURE.stages.map(({ stage }) => captureLine(stage)),
    '  zones:',
    ...DEMO_ZONES.map(zoneLine),
    '',
  ].join('\n');
}
