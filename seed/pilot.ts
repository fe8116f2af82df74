/** The manual test in the first hold: fore and aft, sideways, then up and down with the hand controller. */

export const MANUAL_START_S = 70;
export const MANUAL_END_S = 362;

/** Deflections of the hand controller: -1, 0 or 1 an axis. */
export type Stick = Readonly<{ x: number; y: number; z: number }>;

export const STICK_AT_REST: Stick = { x: 0, y: 0, z: 0 };

/** Between deflection and push on the vertical axis, s: the looseness the test brings out. */
export const VERTICAL_DELAY_S = 1.4;

type Task = Readonly<{ fromS: number; toS: number; targetM: number }>;

const SIDEWAYS: readonly Task[] = [
  { fromS: 92, toS: 135, targetM: 1.2 },
  { fromS: 135, toS: 186, targetM: 0 },
];
const VERTICAL: readonly Task[] = [
  { fromS: 192, toS: 262, targetM: 1.2 },
  { fromS: 262, toS: 346, targetM: 0 },
];
const FORE_AFT = [
  { fromS: 74, toS: 74.2, deflection: -1 },
  { fromS: 80, toS: 80.2, deflection: 1 },
] as const;

/** Deflects towards the target while the place foreseen `leadS` ahead is off by more than `slackM`. */
function deflect(tasks: readonly Task[], timeS: number, foreseen: number, slackM: number): number {
  const task = tasks.find(({ fromS, toS }) => timeS >= fromS && timeS < toS);
  if (task === undefined) return 0;
  const offM = task.targetM - foreseen;
  return Math.abs(offM) < slackM ? 0 : Math.sign(offM);
}

/** What the pilot sees: time of the session and the motion across the docking axis. */
export type PilotView = Readonly<{
  timeS: number;
  yM: number;
  zM: number;
  vyMps: number;
  vzMps: number;
}>;

export function flyByHand(view: PilotView): Stick {
  if (view.timeS < MANUAL_START_S || view.timeS >= MANUAL_END_S) return STICK_AT_REST;
  const foreAft = FORE_AFT.find(
    ({ fromS, toS }) => view.timeS >= fromS - 1e-6 && view.timeS < toS - 1e-6,
  );
  return {
    x: foreAft?.deflection ?? 0,
    y: deflect(SIDEWAYS, view.timeS, view.yM + 13 * view.vyMps, 0.16),
    z: deflect(VERTICAL, view.timeS, view.zM + 2.6 * view.vzMps, 0.3),
  };
}
