/** The controller's guidance: which leg is being flown and which closing rate it asks for. */
import { DEMO_PLAN, FINAL, HOLD_FAR, HOLD_NEAR, MOVE_NEAR, plannedRateMps } from './demo-plan';

/** One leg as flown; the three after the first approach are in no plan. */
export type Leg =
  | Readonly<{ kind: 'hold'; name: string; atM: number | null; forS: number }>
  | Readonly<{ kind: 'approach'; name: string; toM: number }>
  | Readonly<{ kind: 'back-off'; name: string; toM: number; rateMps: number }>;

/** Range at which the axial jets stay on, m; the hold is called `HOLD_CALL_DELAY_S` later. */
export const STUCK_JET_RANGE_M = 134;
export const HOLD_CALL_DELAY_S = 24;
export const BACK_OFF_RATE_MPS = 0.15;

export const LEGS: readonly Leg[] = [
  { kind: 'hold', name: 'hold-far', atM: HOLD_FAR.holdM, forS: 472 },
  { kind: 'approach', name: 'approach-1', toM: MOVE_NEAR.toM },
  { kind: 'hold', name: 'hold-unplanned', atM: null, forS: 148 },
  { kind: 'back-off', name: 'back-off', toM: 150, rateMps: BACK_OFF_RATE_MPS },
  { kind: 'hold', name: 'hold-back', atM: 150, forS: 96 },
  { kind: 'approach', name: 'approach-2', toM: MOVE_NEAR.toM },
  { kind: 'hold', name: 'hold-near', atM: HOLD_NEAR.holdM, forS: 522 },
  { kind: 'approach', name: 'final', toM: FINAL.toM },
];

export type GuidanceState = Readonly<{
  legs: readonly Leg[];
  legIndex: number;
  legStartS: number;
  /** Closing rate asked for now, m/s; changes by at most the plan's acceleration. */
  commandMps: number;
  /** Where a hold is kept, m. */
  holdM: number;
}>;

export const GUIDANCE_START: GuidanceState = {
  legs: LEGS,
  legIndex: 0,
  legStartS: 0,
  commandMps: 0,
  holdM: HOLD_FAR.holdM,
};

/** The leg being flown; undefined after the last. */
export function legOf({ legs, legIndex }: GuidanceState): Leg | undefined {
  return legs[legIndex];
}

function wantedRateMps(leg: Leg, state: GuidanceState, xM: number): number {
  if (leg.kind === 'hold') {
    const offM = xM - state.holdM;
    return Math.abs(offM) < 0.12 ? 0 : Math.min(Math.max(offM * 0.02, -0.006), 0.006);
  }
  const brakingM = Math.max(leg.kind === 'approach' ? xM - leg.toM : leg.toM - xM, 0);
  const braking = Math.sqrt(2 * DEMO_PLAN.accelerationMps2 * brakingM);
  if (leg.kind === 'back-off') return -Math.min(leg.rateMps, braking);
  if (leg.name === 'final') return plannedRateMps(FINAL.closingRateMps, xM);
  return Math.min(plannedRateMps(MOVE_NEAR.closingRateMps, xM), braking);
}

function isFinished(leg: Leg, state: GuidanceState, now: GuidanceNow): boolean {
  if (leg.kind === 'hold') return now.timeS - state.legStartS >= leg.forS;
  if (leg.name === 'final') return false;
  if (leg.name === 'approach-1') return now.hold === 'called';
  return leg.kind === 'approach' ? now.xM - leg.toM < 0.02 : leg.toM - now.xM < 0.02;
}

export type GuidanceNow = Readonly<{
  timeS: number;
  xM: number;
  stepS: number;
  /** Set once the hold has been called: the first approach is then given up. */
  hold: 'called' | 'not called';
}>;

/** The next state of the guidance; a new leg starts where the last one ended. */
export function guide(state: GuidanceState, now: GuidanceNow): GuidanceState {
  const leg = legOf(state);
  if (leg === undefined) return state;
  if (isFinished(leg, state, now)) {
    const next = state.legs[state.legIndex + 1];
    // An unplanned hold is kept where braking at the plan's acceleration comes to rest.
    const restM = now.xM - (state.commandMps * state.commandMps) / (2 * DEMO_PLAN.accelerationMps2);
    const holdM = next?.kind === 'hold' ? (next.atM ?? restM) : state.holdM;
    return { ...state, legIndex: state.legIndex + 1, legStartS: now.timeS, holdM };
  }
  const most = DEMO_PLAN.accelerationMps2 * now.stepS;
  const change = wantedRateMps(leg, state, now.xM) - state.commandMps;
  return { ...state, commandMps: state.commandMps + Math.min(Math.max(change, -most), most) };
}
