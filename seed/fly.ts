/**
 * Flies the plan: guidance, pulsed jets, attitude limit cycles and orbital motion, step by step.
 *
 * What comes out is the truth, free of noise: the sensors of `telemetry-file.ts` are put on it
 * later, and tests hold a reconstruction against it.
 */
import { type AttitudeAxis, stepAttitude } from './attitude';
import { END_AFTER_S, ringPush } from './capture-ring';
import { DEMO_PLAN } from './demo-plan';
import { FlightRecorder, type FlightTruth } from './flight-truth';
import {
  GUIDANCE_START,
  type GuidanceState,
  guide,
  HOLD_CALL_DELAY_S,
  legOf,
  STUCK_JET_RANGE_M,
} from './guidance';
import { type JetAxis, pulse, TRANSLATION_X, TRANSLATION_YZ } from './jets';
import { type PortState, stepMotion } from './orbit-motion';
import { flyByHand, MANUAL_END_S, MANUAL_START_S, type Stick, VERTICAL_DELAY_S } from './pilot';
import { makeRandom, type RandomSource } from './random';

/** Ten steps a second, counted in whole numbers so that times carry no rounding. */
export const STEPS_PER_S = 10;
const STEP_S = 1 / STEPS_PER_S;

/** How long the axial jets stay on uncommanded, and until the opposing jets are let in, s. */
const STUCK_FOR_S = 3.2;
const RECOVERY_AFTER_S = 4.4;

const START: PortState = {
  xM: 300.06,
  yM: 0.11,
  zM: -0.07,
  vxMps: -0.001,
  vyMps: 0.001,
  vzMps: -0.0005,
};
const ATTITUDE_START: readonly AttitudeAxis[] = [
  { errorDeg: 0.05, rateDps: 0.006 },
  { errorDeg: -0.12, rateDps: -0.004 },
  { errorDeg: 0.2, rateDps: 0.005 },
];
const DISTURBANCE_DPS2 = [0.000012, -0.00003, 0.00002] as const;

export const MODES = {
  hold: 1,
  approach: 2,
  manual: 3,
  'back-off': 4,
  final: 5,
  captured: 6,
} as const;

type JetTimes = { x: number; y: number; z: number };
/** Where guidance believes the docking axis to be, m off the true one. */
export type Misalignment = Readonly<{ yM: number; zM: number }>;

/** The alignment sensor stands 35 mm off to one side and 12 mm low, and guidance believes it. */
const DEMO_MISALIGNMENT: Misalignment = { yM: 0.035, zM: -0.012 };

type Memory = {
  misalignment: Misalignment;
  guidance: GuidanceState;
  state: PortState;
  attitude: readonly AttitudeAxis[];
  stuckSinceS: number | null;
  contactS: number | null;
  sticks: Stick[];
};

/** Signed on-time that follows a wanted velocity with a dead band. */
function follow(axis: JetAxis, error: number, deadBand: number): number {
  return Math.abs(error) < deadBand ? 0 : pulse(axis, error, STEP_S);
}

function axialOnS(memory: Memory, timeS: number, stick: Stick, navigation: RandomSource): number {
  const { state, guidance } = memory;
  if (stick.x !== 0) return stick.x * STEP_S;
  // The hold controller leaves the axis alone between the two fore-and-aft pulses of the test.
  if (timeS >= 74 && timeS < 80) return 0;
  if (memory.stuckSinceS !== null) {
    if (timeS - memory.stuckSinceS < STUCK_FOR_S) return -STEP_S;
    if (timeS - memory.stuckSinceS < RECOVERY_AFTER_S) return 0;
  }
  const measured = -state.vxMps + 0.0004 * navigation.normal();
  return follow(TRANSLATION_X, measured - guidance.commandMps, 0.0024);
}

function acrossOnS(offM: number, speedMps: number, xM: number, navigation: RandomSource): number {
  const near = xM < 60;
  const wanted = Math.min(Math.max(-offM * (near ? 0.03 : 0.02), -0.03), 0.03);
  return follow(
    TRANSLATION_YZ,
    wanted - speedMps - 0.0002 * navigation.normal(),
    near ? 0.0006 : 0.002,
  );
}

function fireJets(
  memory: Memory,
  timeS: number,
  navigation: RandomSource,
): Readonly<{ on: JetTimes; stick: Stick }> {
  const { state } = memory;
  const manual = timeS >= MANUAL_START_S && timeS < MANUAL_END_S;
  const stick = flyByHand({ timeS, ...state });
  memory.sticks.push(stick);
  const late = memory.sticks[memory.sticks.length - 1 - Math.round(VERTICAL_DELAY_S * STEPS_PER_S)];
  const x = axialOnS(memory, timeS, stick, navigation);
  if (manual) return { on: { x, y: stick.y * STEP_S, z: (late?.z ?? 0) * STEP_S }, stick };
  const { misalignment } = memory;
  const y = acrossOnS(state.yM - misalignment.yM, state.vyMps, state.xM, navigation);
  const z = acrossOnS(state.zM - misalignment.zM, state.vzMps, state.xM, navigation);
  return { on: { x, y, z }, stick };
}

function stepAllAttitude(memory: Memory, on: JetTimes, random: RandomSource): number {
  if (memory.contactS !== null) {
    memory.attitude = memory.attitude.map(({ errorDeg, rateDps }) => ({
      errorDeg: errorDeg + rateDps * STEP_S,
      rateDps: rateDps + (-0.02 * errorDeg - 0.25 * rateDps) * STEP_S,
    }));
    return 0;
  }
  let onS = 0;
  const coupling = [0.004 * on.y, 0.012 * on.z + 0.009 * on.x, -0.01 * on.y];
  memory.attitude = memory.attitude.map((axis, index) => {
    const result = stepAttitude(
      axis,
      {
        deadBandDeg: memory.state.xM < 41 ? 0.3 : 0.5,
        disturbanceDps2: DISTURBANCE_DPS2[index] ?? 0,
        couplingDps2: coupling[index] ?? 0,
        stepS: STEP_S,
      },
      random,
    );
    onS += result.onS;
    return result.axis;
  });
  return onS;
}

function modeNow(memory: Memory, timeS: number): number {
  if (memory.contactS !== null) return MODES.captured;
  if (timeS >= MANUAL_START_S && timeS < MANUAL_END_S) return MODES.manual;
  const leg = legOf(memory.guidance);
  if (leg?.name === 'final') return MODES.final;
  return MODES[leg?.kind ?? 'hold'];
}

/** One control step; returns the jets' on-times of the step. */
function step(
  memory: Memory,
  timeS: number,
  random: Readonly<{ navigation: RandomSource; attitude: RandomSource }>,
) {
  if (memory.contactS !== null) {
    memory.state = stepMotion(
      memory.state,
      ringPush(memory.state, timeS - memory.contactS),
      STEP_S,
    );
    return {
      on: { x: 0, y: 0, z: 0 },
      stick: { x: 0, y: 0, z: 0 },
      rotationOnS: stepAllAttitude(memory, { x: 0, y: 0, z: 0 }, random.attitude),
    };
  }
  const leg = legOf(memory.guidance);
  if (
    leg?.name === 'approach-1' &&
    memory.stuckSinceS === null &&
    memory.state.xM < STUCK_JET_RANGE_M
  ) {
    memory.stuckSinceS = timeS;
  }
  const called = memory.stuckSinceS !== null && timeS - memory.stuckSinceS >= HOLD_CALL_DELAY_S;
  memory.guidance = guide(memory.guidance, {
    timeS,
    xM: memory.state.xM,
    stepS: STEP_S,
    hold: called ? 'called' : 'not called',
  });
  const { on, stick } = fireJets(memory, timeS, random.navigation);
  const stuck = memory.stuckSinceS !== null && timeS - memory.stuckSinceS < STUCK_FOR_S;
  const push = {
    xMps2: (TRANSLATION_X.accel * on.x) / STEP_S,
    yMps2: (TRANSLATION_YZ.accel * on.y) / STEP_S,
    // One jet of the pair is weaker, so the pair pushes upward while it stays on.
    zMps2: (TRANSLATION_YZ.accel * on.z) / STEP_S + (stuck ? 0.009 : 0),
  };
  const before = memory.state;
  memory.state = stepMotion(before, push, STEP_S);
  if (memory.state.xM <= DEMO_PLAN.contactAxialM) {
    const share = (before.xM - DEMO_PLAN.contactAxialM) / (before.xM - memory.state.xM);
    memory.contactS = timeS + share * STEP_S;
  }
  return { on, stick, rotationOnS: stepAllAttitude(memory, on, random.attitude) };
}

/** How an approach begins, and what differs from one to the next. */
export type ApproachSetup = Readonly<{
  state: PortState;
  attitude: readonly AttitudeAxis[];
  guidance: GuidanceState;
  misalignment: Misalignment;
  seeds: Readonly<{ navigation: number; attitude: number }>;
  /** Session time of the first row, s. */
  startS: number;
  /** How long after first touch it goes on, s. */
  endAfterContactS: number;
  /** One row is kept of so many steps. */
  stepsARow: number;
}>;

const DEMO_SETUP: ApproachSetup = {
  state: START,
  attitude: ATTITUDE_START,
  guidance: GUIDANCE_START,
  misalignment: DEMO_MISALIGNMENT,
  seeds: { navigation: 20270406, attitude: 20270407 },
  startS: 0,
  endAfterContactS: END_AFTER_S,
  stepsARow: 1,
};

/** Flies from a setup to the end, at most two hours. */
export function flyApproach(setup: ApproachSetup): FlightTruth {
  const { startS, seeds, stepsARow } = setup;
  const random = {
    navigation: makeRandom(seeds.navigation),
    attitude: makeRandom(seeds.attitude),
  };
  const memory: Memory = {
    misalignment: setup.misalignment,
    guidance: setup.guidance,
    state: setup.state,
    attitude: setup.attitude,
    stuckSinceS: null,
    contactS: null,
    sticks: [],
  };
  const recorder = new FlightRecorder();
  let result = { on: { x: 0, y: 0, z: 0 }, stick: { x: 0, y: 0, z: 0 }, rotationOnS: 0 };
  const first = Math.round(startS * STEPS_PER_S);
  for (let count = first; count < first + 7200 * STEPS_PER_S; count += 1) {
    const timeS = count / STEPS_PER_S;
    if ((count - first) % stepsARow !== 0) recorder.addUp(result);
    else recorder.record({ timeS, ...memory, ...result, mode: modeNow(memory, timeS) });
    if (memory.contactS !== null && timeS >= memory.contactS + setup.endAfterContactS) break;
    const legBefore = memory.guidance.legIndex;
    result = step(memory, timeS, random);
    if (memory.guidance.legIndex !== legBefore)
      recorder.startLeg(legOf(memory.guidance)?.name ?? '', timeS);
  }
  return recorder.finish(memory);
}

/**
 * The whole flight, from the first hold to hard capture.
 *
 * @returns noise-free columns at ten rows a second and the times of what was planted
 */
export function flyDemo(): FlightTruth {
  return flyApproach(DEMO_SETUP);
}
