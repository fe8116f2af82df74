/** Runs of motion matched to the plan's steps, in order. */
import { profileAt } from '../math/search';
import type { HoldStep, MoveStep, Plan, PlanStep } from '../session/plan';
import type { MotionRun } from './motion-runs';

/** A run with its ranges, as matching needs them. */
export type RangedRun = MotionRun &
  Readonly<{
    rangeStartM: number;
    rangeEndM: number;
    /** Mean over time, without gaps, m. */
    rangeMeanM: number;
  }>;

/** `stepIndex` is into the plan's steps, `piece` counts from 1; both null where no step asked for the run. */
export type StepMatch = Readonly<{ stepIndex: number | null; piece: number | null }>;

/** True where a move leads towards the port by its planned rate half-way. */
export function leadsInwards(step: MoveStep): boolean {
  const rates = step.closingRateMps;
  const first = rates[0]?.[0] ?? 0;
  const last = rates[rates.length - 1]?.[0] ?? 0;
  return !(profileAt(rates, (first + last) / 2) < 0);
}

/** True where the plan ends away from the port, so that no contact is looked for. */
export function leadsAway(plan: Plan | null): boolean {
  const last = plan?.steps.findLast((step) => step.kind === 'move');
  return last?.kind === 'move' && !leadsInwards(last);
}

/** What a run is called while it flies a move. */
export function motionOfMove(step: MoveStep): 'closing' | 'opening' {
  return leadsInwards(step) ? 'closing' : 'opening';
}

function moveFits(step: MoveStep, run: RangedRun): boolean {
  if (run.motion !== motionOfMove(step)) return false;
  return leadsInwards(step) ? run.rangeStartM > step.toM : run.rangeStartM < step.toM;
}

function holdFits(step: HoldStep, run: RangedRun): boolean {
  return run.motion === 'hold' && Math.abs(run.rangeMeanM - step.holdM) <= step.toleranceM;
}

function fits(step: PlanStep, run: RangedRun): boolean {
  return step.kind === 'hold' ? holdFits(step, run) : moveFits(step, run);
}

/** The latest move, so that a piece that resumes can find it; `reached`: the hold behind it has been flown. */
type Flying = { index: number; step: MoveStep; startM: number; pieces: number; reached: boolean };

function toleranceAt(plan: Plan, index: number): number {
  const step = plan.steps[index];
  return step?.kind === 'hold' ? step.toleranceM : 0;
}

/** True where a run ends no further in than the target of the move and the tolerance of the hold behind it. */
function stopsAtTarget({ step, index }: Flying, run: RangedRun, plan: Plan): boolean {
  const pastM = toleranceAt(plan, index + 1);
  return leadsInwards(step) ? run.rangeEndM >= step.toM - pastM : run.rangeEndM <= step.toM + pastM;
}

/** True where a run leads to the target; once the hold there was flown, only from outside its place. */
function leadsToTarget({ step, index, reached }: Flying, run: RangedRun, plan: Plan): boolean {
  const placeM = reached ? toleranceAt(plan, index + 1) : 0;
  return moveFits(step, run) && Math.abs(run.rangeStartM - step.toM) > placeM;
}

/** True where a run flies on with the move: it starts between the move's start and its target. */
function resumes(flying: Flying, run: RangedRun, plan: Plan): boolean {
  const slackM = toleranceAt(plan, flying.index - 1);
  const within = leadsInwards(flying.step)
    ? run.rangeStartM <= flying.startM + slackM
    : run.rangeStartM >= flying.startM - slackM;
  if (!within || !leadsToTarget(flying, run, plan)) return false;
  return !flying.reached || stopsAtTarget(flying, run, plan);
}

/**
 * True where a run leads to the target of the move being flown from outside that move's start, and
 * ends no further in than the hold that follows: the starts of later steps are still ahead of it.
 */
function stopsShortOfLater(flying: Flying, run: RangedRun, plan: Plan): boolean {
  return leadsToTarget(flying, run, plan) && stopsAtTarget(flying, run, plan);
}

/**
 * Matches runs to steps. Steps are taken in order and may be skipped: a hold goes to the first
 * hold still ahead whose place it keeps within tolerance; a move to the first move still ahead
 * whose target lies before it. A move resumed after an unplanned hold or an opening stays with its
 * step while it starts between that step's start (as exactly as the hold before it is to be kept) and
 * its target; so does one flown again up to the hold behind it, from further out than that hold reaches,
 * when the vehicle has backed off from there. One that starts further out belongs to
 * a later step where it goes on past this one's target, else to none. What no step asked for stays
 * unmatched, a hold kept a second time included.
 *
 * @param runs in time order
 * @param plan the plan
 * @returns one match for each run
 */
export function matchSteps(runs: readonly RangedRun[], plan: Plan): readonly StepMatch[] {
  let next = 0;
  let flying: Flying | null = null;
  return runs.map((run): StepMatch => {
    if (flying !== null && resumes(flying, run, plan)) {
      flying.pieces += 1;
      return { stepIndex: flying.index, piece: flying.pieces };
    }
    if (flying !== null && stopsShortOfLater(flying, run, plan)) {
      return { stepIndex: null, piece: null };
    }
    const index = plan.steps.findIndex((step, place) => place >= next && fits(step, run));
    const step = plan.steps[index];
    if (step === undefined) return { stepIndex: null, piece: null };
    next = index + 1;
    if (step.kind === 'move') {
      flying = { index, step, startM: run.rangeStartM, pieces: 1, reached: false };
    } else if (flying !== null) {
      flying = index === flying.index + 1 ? { ...flying, reached: true } : null;
    }
    return { stepIndex: index, piece: 1 };
  });
}
