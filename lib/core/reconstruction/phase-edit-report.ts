/** The list of people's corrections of phases with what became of each. */
import type { EditOutcome, PhaseEdit } from '../session/phase-edit';
import type { Plan } from '../session/plan';
import { contactMethod, edgeMethod, editSubject, saidFigure } from './edit-words';
import { motionRuns, runName, stepId } from './edited-phases';
import { figureOf, type Origin } from './figure-of';
import type { PhaseEditResult, PhaseEdits } from './phase-edits';
import { EDGE_METHOD, type FoundPhases } from './phase-figures';
import { computedContact, type Touch } from './touch';

export type EditReportInput = Readonly<{
  edits: readonly PhaseEdit[];
  plan: Plan | null;
  /** Phases with their corrections; null where none were computed. */
  found: FoundPhases | null;
  touch: Touch;
  origin: Origin;
}>;

const NO_PHASES: EditOutcome = {
  state: 'not applied',
  fault: 'no phases were computed: they need telemetry of the motion and a plan',
};

type Found = Readonly<{
  what: string;
  computed: Readonly<{ atS: number; halfS: number | null }> | null;
  method: string;
  computedStep: string | null;
}>;

/** What is known of it where it stands: the runs beside it by the steps they have now. */
function whereItStands(input: EditReportInput, edit: PhaseEdit, place: number): Found {
  const none = { what: editSubject(edit), computed: null, method: '', computedStep: null };
  if (edit.kind === 'contact') {
    const was = input.touch.computed;
    const computed = was === null ? null : { atS: was.timeS, halfS: was.halfS };
    return { ...none, computed, method: contactMethod(edit, was) };
  }
  const { found, plan } = input;
  if (found === null || plan === null) return none;
  const { runs } = found.edited;
  if (edit.kind === 'name-run') {
    const named = runs.find(({ namedBy }) => namedBy === place);
    return {
      ...none,
      computedStep: named === undefined ? null : stepId(plan, named.computedStepIndex),
    };
  }
  const index = runs.findIndex(({ start }) => start.edit === place);
  const [before, after] = [runs[index - 1], runs[index]];
  if (before === undefined || after === undefined) return none;
  const names = [before, after].map((run) => runName(run.motion, run.stepIndex, plan));
  const { start } = after;
  return {
    ...none,
    ...(edit.kind === 'move-edge' ? { what: `Edge from ${names[0]} to ${names[1]}` } : {}),
    computed: start.computed,
    method: edgeMethod(edit, start),
  };
}

function instantOf(edit: PhaseEdit): number | null {
  if (edit.kind === 'name-run') return null;
  return edit.kind === 'move-edge' ? edit.toS : edit.atS;
}

function resultOf(input: EditReportInput, edit: PhaseEdit, place: number): PhaseEditResult {
  const { found, touch, origin } = input;
  const outcomes = edit.kind === 'contact' ? touch.result.outcomes : found?.outcomes;
  const { what, computed, method, computedStep } = whereItStands(input, edit, place);
  const atS = instantOf(edit);
  const said = method === '' ? 'As a person said it.' : method;
  return {
    edit,
    outcome: outcomes?.get(place) ?? NO_PHASES,
    what,
    setS: atS === null ? null : saidFigure(edit, atS, said),
    computedS:
      computed === null
        ? null
        : figureOf(origin, {
            value: computed.atS,
            unit: 's',
            random: computed.halfS,
            method: edit.kind === 'contact' ? 'Contact as computed.' : EDGE_METHOD,
            fromS: computed.atS,
            toS: computed.atS,
          }),
    computedStep,
  };
}

/**
 * All corrections of phases and contact, in the order in which they were made: none is dropped, what
 * does not fit says why.
 *
 * @returns undefined where nobody said anything
 */
export function phaseEditReport(input: EditReportInput): PhaseEdits | undefined {
  const { edits, found, touch, origin } = input;
  if (edits.length === 0) return undefined;
  const computed = found?.computed;
  const runs = computed === undefined ? [] : motionRuns(computed);
  return {
    results: edits.map((edit, place) => resultOf(input, edit, place)),
    computedRuns: runs.map((run, index) => ({
      ...run,
      stepIndex: computed?.runs[index]?.stepIndex ?? null,
    })),
    computedContactS: touch.computed === null ? null : computedContact(touch.computed, origin),
  };
}
