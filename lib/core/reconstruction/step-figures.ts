/** The plan's steps as flown. */
import type { StepSpan } from '../rules/rule-context';
import type { HoldStep, MoveStep, Plan } from '../session/plan';
import { figureOf, type Origin, withPeople } from './figure-of';
import type { FlownPhase } from './phase-figures';
import type { StepResult } from './reconstruction';

/** What ended the evaluated stretch. */
export type SessionEnd = Readonly<{ contact: boolean; endS: number }>;

type Completion = Pick<StepResult, 'completed' | 'completionUndecided'>;

/**
 * A hold is over once another run follows it; the one that ends the plan, once it has lasted as planned, which
 * is undecided where that length is shorter or longer within its half-width.
 */
function holdOver(
  { steps }: Plan,
  step: HoldStep,
  length: Readonly<{ durationS: number; half: number }>,
  after: 'left' | 'last run',
): Completion {
  if (after === 'left') return { completed: true };
  if (steps[steps.length - 1]?.id !== step.id) return { completed: false };
  const overS = length.durationS - step.plannedS;
  const isOpen = overS !== 0 && Math.abs(overS) <= length.half;
  return { completed: overS >= 0, ...(isOpen ? { completionUndecided: true } : {}) };
}

/** A target is reached within the tolerance of the hold that follows it. */
function targetReached(
  plan: Plan,
  index: number,
  step: MoveStep,
  last: FlownPhase,
  end: SessionEnd,
) {
  if (end.contact && last.run.endS >= end.endS) return true;
  const next = plan.steps[index + 1];
  const toleranceM = next?.kind === 'hold' ? next.toleranceM : 0;
  return last.run.motion === 'opening'
    ? last.run.rangeEndM >= step.toM - toleranceM
    : last.run.rangeEndM <= step.toM + toleranceM;
}

/**
 * Start, end, duration, deviation and completion of each planned step: from the start of its first
 * piece to the end of its last.
 *
 * @returns one result a step, in the plan's order; a step never flown has 0 pieces and no times
 */
export function stepResults(
  plan: Plan,
  phases: readonly FlownPhase[],
  end: SessionEnd,
  motionOrigin: Origin,
): readonly StepResult[] {
  return plan.steps.map((step, index): StepResult => {
    const pieces = phases.filter((flown) => flown.match.stepIndex === index);
    const first = pieces[0];
    const last = pieces[pieces.length - 1];
    if (first === undefined || last === undefined) {
      return {
        id: step.id,
        pieces: 0,
        startS: null,
        endS: null,
        durationS: null,
        plannedS: step.plannedS,
        durationDeviationS: null,
        completed: false,
      };
    }
    const people = pieces.flatMap((flown) => flown.people);
    const origin = withPeople(motionOrigin, people);
    const durationS = last.run.endS - first.run.startS;
    const half = Math.hypot(first.run.startHalfS, last.run.endHalfS);
    const over = { fromS: first.run.startS, toS: last.run.endS };
    const after = phases[phases.length - 1] === last ? 'last run' : 'left';
    return {
      id: step.id,
      pieces: pieces.length,
      startS: first.phase.startS,
      endS: last.phase.endS,
      durationS: figureOf(origin, {
        value: durationS,
        unit: 's',
        random: half,
        method: 'From the start of its first piece to the end of its last.',
        ...over,
      }),
      plannedS: step.plannedS,
      durationDeviationS: figureOf(origin, {
        value: durationS - step.plannedS,
        unit: 's',
        random: half,
        method: 'Duration flown minus duration planned.',
        ...over,
      }),
      ...(step.kind === 'hold'
        ? holdOver(plan, step, { durationS, half }, after)
        : { completed: targetReached(plan, index, step, last, end) }),
    };
  });
}

/** The flown spans by step id, for rules. */
export function stepSpans(
  plan: Plan,
  phases: readonly FlownPhase[],
): ReadonlyMap<string, StepSpan> {
  const spans = new Map<string, StepSpan>();
  plan.steps.forEach((step, index) => {
    const pieces = phases.filter((flown) => flown.match.stepIndex === index);
    const first = pieces[0];
    const last = pieces[pieces.length - 1];
    if (first === undefined || last === undefined) return;
    spans.set(step.id, {
      startS: first.run.startS,
      endS: last.run.endS,
      startHalfS: first.run.startHalfS,
      endHalfS: last.run.endHalfS,
    });
  });
  return spans;
}
