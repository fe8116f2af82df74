/** Whether a further correction of phases fits what was last computed. */
import { contactWith } from '../phases/declared-contact';
import { editRuns } from '../phases/edit-runs';
import { uneditedRuns } from '../phases/edited-run';
import type { PhaseEdit } from '../session/phase-edit';
import { placedRunEdits } from './edited-phases';
import type { ComputedRun } from './phase-edits';
import type { Reconstruction } from './reconstruction';

/** Runs before anybody's correction, of a reconstruction with or without corrections. */
function computedRuns({ phaseEdits, phases, plan }: Reconstruction): readonly ComputedRun[] {
  if (phaseEdits !== undefined) return phaseEdits.computedRuns;
  return phases.map(({ motion, startS, endS, step }) => ({
    motion,
    startS: startS.value ?? Number.NaN,
    endS: endS.value ?? Number.NaN,
    startHalfS: startS.uncertainty?.random ?? Number.NaN,
    endHalfS: endS.uncertainty?.random ?? Number.NaN,
    stepIndex: step === null ? null : (plan?.steps.findIndex(({ id }) => id === step) ?? null),
  }));
}

function telemetrySpan({ sources }: Reconstruction): readonly [number, number] | null {
  const covered = sources.flatMap(({ type, coverage }) =>
    type === 'telemetry' && coverage !== null ? [coverage] : [],
  );
  if (covered.length === 0) return null;
  return [Math.min(...covered.map(([fromS]) => fromS)), Math.max(...covered.map(([, toS]) => toS))];
}

/**
 * Why a correction cannot be applied to what was last computed, as the words after a colon.
 *
 * @param standing the corrections that it would come after, those not computed in yet included
 * @returns `null` where it fits
 */
export function phaseEditFault(
  reconstruction: Reconstruction,
  standing: readonly PhaseEdit[],
  next: PhaseEdit,
): string | null {
  if (next.kind === 'contact') {
    const placed = [{ place: 0, edit: next }];
    return contactWith(null, placed, telemetrySpan(reconstruction)).outcomes.get(0)?.fault ?? null;
  }
  const runs = computedRuns(reconstruction);
  if (runs.length === 0) return 'no phases were computed: they need telemetry and a plan';
  const steps = (reconstruction.plan?.steps ?? []).map(({ id }) => id);
  const edits = placedRunEdits([...standing, next]);
  return editRuns(uneditedRuns(runs), edits, steps).outcomes.get(standing.length)?.fault ?? null;
}
