/** People's corrections of phases as the reconstruction lists them, each with what was computed. */
import type { Figure } from '../figure';
import type { RunMotion } from '../phases/open-runs';
import type { EditOutcome, PhaseEdit } from '../session/phase-edit';

/**
 * One correction and what became of it. `what` names the thing it is about as it stands now;
 * `setS` and `computedS` are its instants (null for a naming, or where none was computed);
 * `computedStep` is the step that a named run was matched to.
 */
export type PhaseEditResult = Readonly<{
  edit: PhaseEdit;
  outcome: EditOutcome;
  what: string;
  setS: Figure | null;
  computedS: Figure | null;
  computedStep: string | null;
}>;

/** A run before anybody's correction: what a further correction is checked against. */
export type ComputedRun = Readonly<{
  motion: RunMotion;
  startS: number;
  endS: number;
  startHalfS: number;
  endHalfS: number;
  stepIndex: number | null;
}>;

/** All corrections of phases, in the order in which they were made. */
export type PhaseEdits = Readonly<{
  results: readonly PhaseEditResult[];
  computedRuns: readonly ComputedRun[];
  computedContactS: Figure | null;
}>;

/**
 * What a person set at one edge of a phase. `keyS` is how a further correction names the edge;
 * `computedS` is null where none was computed (a split).
 */
export type SetEdge = Readonly<{ by: string | null; keyS: number; computedS: Figure | null }>;
