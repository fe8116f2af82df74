/** What people's corrections do to the figures of a phase: its edges, and what rests on them. */
import type { Figure } from '../figure';
import type { PlacedEdit } from '../phases/edit-runs';
import { type EditedRuns, endOf, type RunEdge } from '../phases/edited-run';
import type { MotionRun } from '../phases/motion-runs';
import type { RunMotion } from '../phases/open-runs';
import { nameFromId } from '../session/name-from-id';
import type { PhaseEdit, RunEdit } from '../session/phase-edit';
import type { Plan } from '../session/plan';
import { about, edgeMethod, namingSentence, saidFigure } from './edit-words';
import { figureOf, type Origin } from './figure-of';
import { MOTION_WORDS } from './kind-words';
import type { SetEdge } from './phase-edits';

/** Runs as they stand, the corrections behind them, and what names them. */
export type EditedContext = Readonly<{
  edited: EditedRuns;
  edits: readonly PhaseEdit[];
  plan: Plan;
  origin: Origin;
}>;

/** Corrections of runs, each with its place among all corrections of phases. */
export function placedRunEdits(edits: readonly PhaseEdit[]): readonly PlacedEdit[] {
  return edits.flatMap((edit, place) => (edit.kind === 'contact' ? [] : [{ place, edit }]));
}

/** Runs with their edges, as the numerics take them. */
export function motionRuns(edited: EditedRuns): readonly MotionRun[] {
  return edited.runs.map(({ motion, start }, index) => {
    const end = endOf(edited, index);
    return {
      motion,
      startS: start.atS,
      endS: end.atS,
      startHalfS: start.halfS,
      endHalfS: end.halfS,
    };
  });
}

/** The correction of runs at that place among all; undefined for none. */
export function runEditAt(edits: readonly PhaseEdit[], place: number | null): RunEdit | undefined {
  const edit = place === null ? undefined : edits[place];
  return edit === undefined || edit.kind === 'contact' ? undefined : edit;
}

/** What a run is called in a sentence. */
export function runName(motion: RunMotion, stepIndex: number | null, plan: Plan): string {
  const step = stepIndex === null ? undefined : plan.steps[stepIndex];
  return step === undefined ? `unplanned ${MOTION_WORDS[motion]}` : nameFromId(step.id);
}

/** An edge as a figure: set by a person where a correction gives it, else by `method`. */
export function edgeFigure(edge: RunEdge, context: EditedContext, method: string): Figure {
  const edit = runEditAt(context.edits, edge.edit);
  const parts = { value: edge.atS, unit: 's', fromS: edge.atS, toS: edge.atS };
  if (edit === undefined) return figureOf(context.origin, { ...parts, random: edge.halfS, method });
  return saidFigure(edit, edge.atS, edgeMethod(edit, edge));
}

/** What a person set at an edge, with the instant that was computed; undefined where nobody did. */
export function setEdge(
  edge: RunEdge,
  context: EditedContext,
  method: string,
): SetEdge | undefined {
  const edit = runEditAt(context.edits, edge.edit);
  if (edit === undefined) return undefined;
  const { keyS, computed } = edge;
  if (computed === null) return { by: edit.by, keyS, computedS: null };
  const computedS = figureOf(context.origin, {
    value: computed.atS,
    unit: 's',
    random: computed.halfS,
    method,
    fromS: computed.atS,
    toS: computed.atS,
  });
  return { by: edit.by, keyS, computedS };
}

/** The id of a step by its index; null for none. */
export function stepId(plan: Plan, stepIndex: number | null): string | null {
  return stepIndex === null ? null : (plan.steps[stepIndex]?.id ?? null);
}

/** What people set that the figures of a run rest on, a sentence each. */
export function peopleOfRun(context: EditedContext, index: number): readonly string[] {
  const { edited, edits, plan } = context;
  const run = edited.runs[index];
  if (run === undefined) return [];
  const name = runName(run.motion, run.stepIndex, plan);
  const ends = [
    ['Start', run.start],
    ['End', endOf(edited, index)],
  ] as const;
  const sentences = ends.flatMap(([what, edge]) => {
    const edit = runEditAt(edits, edge.edit);
    if (edit === undefined) return [];
    return [about(`${what} of ${name}`, edgeMethod(edit, edge))];
  });
  const naming = runEditAt(edits, run.namedBy);
  if (naming === undefined) return sentences;
  return [...sentences, namingSentence(naming, stepId(plan, run.computedStepIndex))];
}
