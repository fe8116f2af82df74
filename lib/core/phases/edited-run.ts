/** Runs of motion with the steps they were matched to, as people's corrections leave them. */
import type { MotionRun } from './motion-runs';
import type { RunMotion } from './open-runs';

/**
 * An edge. `keyS` is how corrections name it: where it was computed, or where a run was split.
 * `computed` is null for an edge that a split made. `halfS` is NaN where a person stated none.
 * `edit` is the place in the list of corrections of the one that set it; null where computed.
 */
export type RunEdge = Readonly<{
  atS: number;
  halfS: number;
  keyS: number;
  computed: Readonly<{ atS: number; halfS: number }> | null;
  edit: number | null;
}>;

/** A run with its step, both as they stand; it ends where the next one starts. */
export type EditedRun = Readonly<{
  motion: RunMotion;
  start: RunEdge;
  /** Index into the plan's steps; null where no step asked for it. */
  stepIndex: number | null;
  computedStepIndex: number | null;
  /** The correction that gave it to its step; null where it was matched. */
  namedBy: number | null;
}>;

/** All runs, one after the other, and where the last one ends. */
export type EditedRuns = Readonly<{ runs: readonly EditedRun[]; end: RunEdge }>;

function computedEdge(atS: number, halfS: number): RunEdge {
  return { atS, halfS, keyS: atS, computed: { atS, halfS }, edit: null };
}

/** Runs as they were computed, before anybody's correction. */
export function uneditedRuns(
  runs: readonly (MotionRun & Readonly<{ stepIndex: number | null }>)[],
): EditedRuns {
  const last = runs.at(-1);
  return {
    runs: runs.map(({ motion, startS, startHalfS, stepIndex }) => ({
      motion,
      start: computedEdge(startS, startHalfS),
      stepIndex,
      computedStepIndex: stepIndex,
      namedBy: null,
    })),
    end: computedEdge(last?.endS ?? Number.NaN, last?.endHalfS ?? Number.NaN),
  };
}

/** Where a run ends: the start of the one after it. */
export function endOf({ runs, end }: EditedRuns, index: number): RunEdge {
  return runs[index + 1]?.start ?? end;
}
