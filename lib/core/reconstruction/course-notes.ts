/** What an odd course does to steps and their rules, in sentences. */
import { lastPassedS } from '../approach/stations';
import type { MotionEstimate } from '../motion/motion-estimate';
import { leadsInwards } from '../phases/match-steps';
import type { Issue } from '../result';
import { nameFromId } from '../session/name-from-id';
import type { Plan } from '../session/plan';
import { sessionTimeText } from '../time/session-time-text';
import { flownAgain, stepsPassed } from './flight-course';
import type { Phase } from './reconstruction';

/** A move that went on over the place of later steps without a hold between. */
function passedNotes(
  plan: Plan,
  phases: readonly Phase[],
  motion: MotionEstimate,
): readonly Issue[] {
  return phases.flatMap((run): Issue[] => {
    const step = plan.steps.find(({ id }) => id === run.step);
    const passed = stepsPassed(plan, phases, run);
    if (step?.kind !== 'move' || passed.length === 0) return [];
    const passing = leadsInwards(step) ? 'inwards' : 'outwards';
    const passedS = lastPassedS(motion, step.toM, passing);
    const when = passedS === null ? '' : ` at ${sessionTimeText(passedS, 1)}`;
    const names = passed.map((index) => nameFromId(plan.steps[index]?.id ?? '')).join(' and ');
    const toM = run.rangeEndM.value ?? 0;
    return [
      {
        code: 'target-passed',
        severity: 'warning',
        message: `${nameFromId(step.id)} went on past its target of ${step.toM} m${when} without a hold, to ${toM.toFixed(1)} m: its length and its rate deviation hold the way beyond, and no motion is left for ${names}. A run split there can be given to its steps.`,
      },
    ];
  });
}

/** Steps that were flown a second time: rules on a step judge the first. */
function againNotes(plan: Plan, phases: readonly Phase[]): readonly Issue[] {
  return phases.flatMap((run, index): Issue[] => {
    const again = flownAgain({ plan, phases }, index);
    if (again === null) return [];
    const startS = run.startS.value ?? Number.NaN;
    return [
      {
        code: 'step-flown-again',
        severity: 'note',
        message: `${nameFromId(again)} was flown again at ${sessionTimeText(startS, 1)}: its figures and the rules on it are of the first time.`,
      },
    ];
  });
}

/**
 * Says where a run stands for more than its step, and where a step was flown more than once.
 *
 * @returns one issue each, passed targets first
 */
export function courseNotes(
  plan: Plan,
  phases: readonly Phase[],
  motion: MotionEstimate,
): readonly Issue[] {
  return [...passedNotes(plan, phases, motion), ...againNotes(plan, phases)];
}
