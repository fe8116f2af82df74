/** People's corrections of runs, applied one after the other in the order in which they were made. */
import { NORMAL_95 } from '../math/statistics';
import { nameFromId } from '../session/name-from-id';
import type { EditOutcome, MovedEdge, NamedRun, RunEdit, SplitRun } from '../session/phase-edit';
import { sessionTimeText } from '../time/session-time-text';
import { type EditedRun, type EditedRuns, endOf } from './edited-run';

/** An edge computed again may lie this far from where a correction knew it, s. Our own choice. */
const SAME_EDGE_S = 5;
/** A run found again shares more than this part of its length with the one that was named. */
const SAME_RUN_SHARE = 2 / 3;

/** Corrections by their place in the list of all; places that are no correction of runs are left out. */
export type PlacedEdit = Readonly<{ place: number; edit: RunEdit }>;

export type EditedResult = Readonly<{
  edited: EditedRuns;
  /** By place: what became of each correction. */
  outcomes: ReadonlyMap<number, EditOutcome>;
}>;

type Change = Readonly<{ runs: readonly EditedRun[] }> | Readonly<{ fault: string }>;

const time = (atS: number): string => sessionTimeText(atS, 1);
const halfOf = (sdS: number | null): number => (sdS === null ? Number.NaN : NORMAL_95 * sdS);

/** Index of the run that starts at the edge; -1 where there is none any more. */
function runAfterEdge(runs: readonly EditedRun[], { edgeS, before, after }: MovedEdge): number {
  let found = -1;
  let nearestS = SAME_EDGE_S;
  for (let index = 1; index < runs.length; index++) {
    const run = runs[index];
    if (run?.motion !== after || runs[index - 1]?.motion !== before) continue;
    const offS = Math.abs(run.start.keyS - edgeS);
    if (offS > nearestS) continue;
    nearestS = offS;
    found = index;
  }
  return found;
}

function moveEdge(all: EditedRuns, edit: MovedEdge, place: number): Change {
  const { runs } = all;
  const index = runAfterEdge(runs, edit);
  const run = runs[index];
  if (run === undefined) {
    const edge = `from ${edit.before} to ${edit.after}`;
    return { fault: `there is no edge ${edge} within ${SAME_EDGE_S} s of ${time(edit.edgeS)}` };
  }
  const fromS = runs[index - 1]?.start.atS ?? Number.NaN;
  const toS = endOf(all, index).atS;
  if (!(edit.toS > fromS && edit.toS < toS)) {
    return {
      fault: `${time(edit.toS)} lies past a neighbouring edge: this one can lie between ${time(fromS)} and ${time(toS)}`,
    };
  }
  const start = { ...run.start, atS: edit.toS, halfS: halfOf(edit.sdS), edit: place };
  return { runs: runs.with(index, { ...run, start }) };
}

function splitRun(all: EditedRuns, edit: SplitRun, place: number): Change {
  const { runs, end } = all;
  const index = runs.findLastIndex(({ start }) => start.atS <= edit.atS);
  const run = runs[index];
  if (run === undefined || edit.atS >= end.atS) {
    const span = `${time(runs[0]?.start.atS ?? Number.NaN)} to ${time(end.atS)}`;
    return { fault: `${time(edit.atS)} lies outside the runs, which last from ${span}` };
  }
  if (run.motion !== edit.motion) {
    return { fault: `at ${time(edit.atS)} the motion is ${run.motion}, not ${edit.motion}` };
  }
  if (edit.atS === run.start.atS) return { fault: `${time(edit.atS)} is an edge already` };
  const start = {
    atS: edit.atS,
    halfS: halfOf(edit.sdS),
    keyS: edit.atS,
    computed: null,
    edit: place,
  };
  return { runs: runs.toSpliced(index + 1, 0, { ...run, start }) };
}

/** The smaller share that two stretches have of each other. */
function commonShare(aFromS: number, aToS: number, bFromS: number, bToS: number): number {
  const commonS = Math.min(aToS, bToS) - Math.max(aFromS, bFromS);
  return commonS / Math.max(aToS - aFromS, bToS - bFromS);
}

function nameRun(
  all: EditedRuns,
  edit: NamedRun,
  { place, steps }: Readonly<{ place: number; steps: readonly string[] }>,
): Change {
  const stepIndex = edit.step === null ? null : steps.indexOf(edit.step);
  if (stepIndex === -1) {
    return { fault: `the plan has no step “${nameFromId(edit.step ?? '')}”` };
  }
  const { runs } = all;
  let found = -1;
  let most = SAME_RUN_SHARE;
  for (const [index, run] of runs.entries()) {
    if (run.motion !== edit.motion) continue;
    const share = commonShare(edit.fromS, edit.toS, run.start.atS, endOf(all, index).atS);
    if (share <= most) continue;
    most = share;
    found = index;
  }
  const run = runs[found];
  if (run === undefined) {
    return { fault: `no ${edit.motion} lasts from about ${time(edit.fromS)} to ${time(edit.toS)}` };
  }
  return { runs: runs.with(found, { ...run, stepIndex, namedBy: place }) };
}

function applyEdit(all: EditedRuns, { place, edit }: PlacedEdit, steps: readonly string[]): Change {
  if (edit.kind === 'move-edge') return moveEdge(all, edit, place);
  if (edit.kind === 'split-run') return splitRun(all, edit, place);
  return nameRun(all, edit, { place, steps });
}

/** Moves and names that stand nowhere in the end because a later one took their place. */
function isReplaced({ runs }: EditedRuns, { place, edit }: PlacedEdit): boolean {
  if (edit.kind === 'move-edge') return !runs.some(({ start }) => start.edit === place);
  return edit.kind === 'name-run' && !runs.some(({ namedBy }) => namedBy === place);
}

/**
 * Applies people's corrections to computed runs: the one place in which an edge is moved, a run split
 * or a run given to another step.
 *
 * A moved edge stays between its two neighbours and changes neither which run belongs to which step
 * nor any other edge. A split leaves both parts with the run's step. A correction that does not fit
 * changes nothing and says why.
 *
 * @param computed runs as they were found and matched
 * @param edits in the order in which they were made; a later one meets what earlier ones left
 * @param steps ids of the plan's steps, in order
 * @returns the runs as they stand; with no corrections the computed ones themselves
 */
export function editRuns(
  computed: EditedRuns,
  edits: readonly PlacedEdit[],
  steps: readonly string[],
): EditedResult {
  const outcomes = new Map<number, EditOutcome>();
  let edited = computed;
  for (const one of edits) {
    const change = applyEdit(edited, one, steps);
    if ('fault' in change) {
      outcomes.set(one.place, { state: 'not applied', fault: change.fault });
    } else {
      outcomes.set(one.place, { state: 'applied', fault: null });
      edited = { ...edited, runs: change.runs };
    }
  }
  for (const one of edits) {
    const isApplied = outcomes.get(one.place)?.state === 'applied';
    if (isApplied && isReplaced(edited, one)) {
      outcomes.set(one.place, { state: 'replaced', fault: 'a later correction took its place' });
    }
  }
  return { edited, outcomes };
}
