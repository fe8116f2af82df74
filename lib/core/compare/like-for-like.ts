/** Whether a flight and a simulator run may be held against each other like for like. */
import type { FlownAbout, RunAbout } from '../session/runs-about';

/** `differs`: what stands in the way; `unstated`: what nobody said of one side or the other. */
export type LikeForLike = Readonly<{ differs: readonly string[]; unstated: readonly string[] }>;

/** Steps and masses this close are the same. Our own choice. */
const SAME_STEP = 0.01;
const SAME_MASS = 0.01;

type Compared = Readonly<{
  flown: FlownAbout;
  run: RunAbout;
  /** Median step between rows, s. */
  flownStepS: number;
  runStepS: number;
}>;

type Found = { differs: string[]; unstated: string[] };

function holdWords(name: string, flown: string | null, run: string | null, found: Found): void {
  if (flown === null || run === null) found.unstated.push(name);
  else if (flown !== run) found.differs.push(`${name} (${flown} flown, ${run} simulated)`);
}

function stepText(stepS: number): string {
  return `${Number(stepS.toPrecision(3))} s`;
}

/**
 * Compares inputs, first state, step and configuration. A claim about the vehicle itself is allowed only
 * where nothing differs: otherwise the difference may come from what differs.
 *
 * @returns both lists empty where flight and run are alike in all that is asked
 */
export function likeForLike({ flown, run, flownStepS, runStepS }: Compared): LikeForLike {
  const found: Found = { differs: [], unstated: [] };
  if (run.inputs === 'own') found.differs.push('inputs (the run’s own, not the recorded ones)');
  const first = run.initialState ?? (run.basis === 'reconstruction' ? 'flown' : 'its own');
  if (first !== 'flown') found.differs.push(`first state (${first})`);
  if (Math.abs(runStepS - flownStepS) > SAME_STEP * flownStepS) {
    found.differs.push(
      `step (a row each ${stepText(flownStepS)} flown, ${stepText(runStepS)} simulated)`,
    );
  }
  if (flown.massKg === null || run.massKg === null) found.unstated.push('mass');
  else if (Math.abs(run.massKg - flown.massKg) > SAME_MASS * flown.massKg)
    found.differs.push(`mass (${flown.massKg} kg flown, ${run.massKg} kg simulated)`);
  holdWords('navigation model', flown.navigationModel, run.navigationModel, found);
  holdWords('configuration', flown.configuration, run.configuration, found);
  return found;
}
