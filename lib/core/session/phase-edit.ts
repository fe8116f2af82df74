/** What people say about phases: an edge moved, a run split, a run given to a step, contact declared. */

/** Kinds of motion as people name a run by them. */
export type EditedMotion = 'hold' | 'closing' | 'opening' | 'crossing';

/** Who said it and why, in their words; null where they did not say. */
type Said = Readonly<{ by: string | null; reason: string | null }>;

/**
 * The edge between two runs, set to `toS`. It is named by `edgeS`, where it was computed (for an edge
 * that a split made: where the run was split), and by the motion on its two sides.
 */
export type MovedEdge = Readonly<{
  kind: 'move-edge';
  edgeS: number;
  before: EditedMotion;
  after: EditedMotion;
  toS: number;
  /** Standard deviation of `toS`, s; null where none is stated. */
  sdS: number | null;
}> &
  Said;

/** The run of that motion at `atS` made two. Both stay with the run's step until they are named. */
export type SplitRun = Readonly<{
  kind: 'split-run';
  motion: EditedMotion;
  atS: number;
  /** Standard deviation of `atS`, s; null where none is stated. */
  sdS: number | null;
}> &
  Said;

/** The run of that motion between about `fromS` and `toS` given to a step; null: to none. */
export type NamedRun = Readonly<{
  kind: 'name-run';
  motion: EditedMotion;
  fromS: number;
  toS: number;
  step: string | null;
}> &
  Said;

/** The instant of contact with its standard deviation, and what it rests on in words. */
export type DeclaredContact = Readonly<{
  kind: 'contact';
  atS: number;
  sdS: number;
  basis: string;
}> &
  Said;

/** One correction of the phases, session time in s. Of two on one thing the later counts. */
export type PhaseEdit = MovedEdge | SplitRun | NamedRun | DeclaredContact;

/** A correction of runs of motion. */
export type RunEdit = MovedEdge | SplitRun | NamedRun;

/** What became of a correction; `fault` says why it was not applied, null where it was. */
export type EditOutcome = Readonly<{
  state: 'applied' | 'replaced' | 'not applied';
  fault: string | null;
}>;
