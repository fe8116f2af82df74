/** How a flight went beside its plan: broken off, flown again, begun before its data, led away. */
import { leadsAway, leadsInwards, motionOfMove } from '../phases/match-steps';
import type { MoveStep, Plan } from '../session/plan';
import { motionReachesContact } from './reaches-contact';
import type { Phase, Reconstruction } from './reconstruction';

type Flown = Readonly<{ plan: Plan | null; phases: readonly Phase[] }>;

/** Within what a place beside a step of the plan counts as that place: the hold's own tolerance, m. */
function toleranceM(plan: Plan, holdIndex: number): number {
  const hold = plan.steps[holdIndex];
  return hold?.kind === 'hold' ? hold.toleranceM : 0;
}

const stepIndexOf = (plan: Plan, id: string | null): number =>
  plan.steps.findIndex((step) => step.id === id);

/** The last planned move that was begun before a run, with the range at which it was. */
function moveBefore(plan: Plan, phases: readonly Phase[], index: number) {
  for (let at = index - 1; at >= 0; at--) {
    const step = stepIndexOf(plan, phases[at]?.step ?? null);
    if (plan.steps[step]?.kind !== 'move') continue;
    const first = phases.find((phase) => phase.step === phases[at]?.step);
    return { step, startM: first?.rangeStartM.value ?? Number.POSITIVE_INFINITY };
  }
  return null;
}

/**
 * What people call a run: its motion, but an opening on the way in that nobody planned is a `back-off`, and a
 * `break-off` where it ends farther out than the move before it was begun.
 */
export type RunKind = Phase['motion'] | 'back-off' | 'break-off';

export function runKind({ plan, phases }: Flown, index: number): RunKind {
  const run = phases[index];
  if (run === undefined || run.motion !== 'opening') return run?.motion ?? 'hold';
  if (plan === null || run.step !== null || leadsAway(plan)) return 'opening';
  const move = moveBefore(plan, phases, index);
  if (move === null) return 'opening';
  const farM = move.startM + toleranceM(plan, move.step - 1);
  return (run.rangeEndM.value ?? 0) > farM ? 'break-off' : 'back-off';
}

function repeatsMove(plan: Plan, step: MoveStep, at: number, run: Phase): boolean {
  const inwards = leadsInwards(step);
  if (run.motion !== motionOfMove(step)) return false;
  const nearM = toleranceM(plan, at + 1);
  const fromM = run.rangeStartM.value ?? Number.NaN;
  const toM = run.rangeEndM.value ?? Number.NaN;
  const isAhead = inwards ? fromM > step.toM + nearM : fromM < step.toM - nearM;
  return isAhead && Math.abs(toM - step.toM) <= nearM;
}

/**
 * The step that a run without one flies a second time: a hold at the place of a hold flown before, a
 * move to the target of a move flown before.
 *
 * @returns its id; null where it repeats none
 */
export function flownAgain({ plan, phases }: Flown, index: number): string | null {
  const run = phases[index];
  // A person who gave it to no step has said that it is none of them.
  if (plan === null || run === undefined || run.step !== null || run.stepSet !== undefined)
    return null;
  const middleM = ((run.rangeStartM.value ?? Number.NaN) + (run.rangeEndM.value ?? 0)) / 2;
  const found = plan.steps.find((step, at) => {
    if (!phases.slice(0, index).some((before) => before.step === step.id)) return false;
    return step.kind === 'hold'
      ? run.motion === 'hold' && Math.abs(middleM - step.holdM) <= step.toleranceM
      : repeatsMove(plan, step, at, run);
  });
  return found?.id ?? null;
}

/** A break-off by the index of its run, and the closing with which the approach was begun again; null for none. */
export type BreakOff = Readonly<{ at: number; again: number | null }>;

export function breakOffs(flown: Flown): readonly BreakOff[] {
  return flown.phases.flatMap((_, at): BreakOff[] => {
    if (runKind(flown, at) !== 'break-off') return [];
    const again = flown.phases.findIndex((run, index) => index > at && run.motion === 'closing');
    return [{ at, again: again < 0 ? null : again }];
  });
}

/** Whether the approach was broken off and not begun again in the data. */
export function endedBrokenOff(flown: Flown): boolean {
  return breakOffs(flown).at(-1)?.again === null;
}

/**
 * The step that was under way when the data begin: a move whose first row lies inside its way.
 *
 * @returns its index in the plan; null where the data begin at the start of a step, or with none
 */
export function cutStep({ plan, phases }: Flown): number | null {
  const first = phases[0];
  if (plan === null || first === undefined) return null;
  const at = stepIndexOf(plan, first.step);
  const step = plan.steps[at];
  const before = plan.steps[at - 1];
  if (step?.kind !== 'move' || before === undefined) return null;
  const startM = before.kind === 'hold' ? before.holdM : before.toM;
  const offM = (first.rangeStartM.value ?? startM) - startM;
  return (leadsInwards(step) ? -offM : offM) > toleranceM(plan, at - 1) ? at : null;
}

/**
 * How far beyond its target the run of a move ended, with the tolerance of a hold that follows taken off, m.
 *
 * @param at index of the move in the plan; 0 for a hold
 */
function beyondTargetM(plan: Plan, at: number, run: Phase): number {
  const step = plan.steps[at];
  if (step?.kind !== 'move') return 0;
  const toM = run.rangeEndM.value ?? step.toM;
  const pastM = leadsInwards(step) ? step.toM - toM : toM - step.toM;
  return pastM - toleranceM(plan, at + 1);
}

/**
 * Steps whose place the run of a move went on over: those after it in the plan, up to one that was flown, that begins
 * where the run did not come to, or that leads the other way.
 *
 * @returns their indices in the plan, ascending; none for a run that is no move's
 */
export function stepsPassed(plan: Plan, phases: readonly Phase[], run: Phase): readonly number[] {
  const at = stepIndexOf(plan, run.step);
  const move = plan.steps[at];
  if (move?.kind !== 'move') return [];
  const endsAt = plan.steps.findIndex((step, index) => {
    if (index <= at) return false;
    const turns = step.kind === 'move' && leadsInwards(step) !== leadsInwards(move);
    const isReached =
      plan.steps[index - 1]?.kind === 'hold' || beyondTargetM(plan, index - 1, run) > 0;
    return turns || !isReached || phases.some((phase) => phase.step === step.id);
  });
  const until = endsAt < 0 ? plan.steps.length : endsAt;
  return Array.from({ length: until - at - 1 }, (_, k) => at + 1 + k);
}

/** Whether the move flown last before a step went on over its place: its run holds the step's way too. */
function isPassedOver(plan: Plan, phases: readonly Phase[], index: number): boolean {
  for (let at = index - 1; at >= 0; at--) {
    const run = phases.findLast(({ step }) => step === plan.steps[at]?.id);
    if (run !== undefined) return stepsPassed(plan, phases, run).includes(index);
  }
  return false;
}

/** Why a step has no run: left out, in the run before it, not come to, or before or after the data. */
export type Unflown =
  | 'not flown'
  | 'passed over'
  | 'broken off'
  | 'before the data'
  | 'after the data';

type Course = Flown & Pick<Reconstruction, 'contact' | 'evaluated'>;

/** @param index of a step that no run was matched to */
export function unflownWhy(course: Course, index: number): Unflown {
  const { plan, phases } = course;
  const begun = plan === null ? -1 : stepIndexOf(plan, phases[0]?.step ?? null);
  if (index < begun) return 'before the data';
  if (plan !== null && isPassedOver(plan, phases, index)) return 'passed over';
  const isPassed = plan !== null && phases.some(({ step }) => stepIndexOf(plan, step) > index);
  if (isPassed || motionReachesContact(course)) return 'not flown';
  return endedBrokenOff(course) ? 'broken off' : 'after the data';
}
