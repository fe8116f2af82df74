'use server';

import { revalidatePath } from 'next/cache';
import { correctPhase } from '@/lib/server/commands/correct-phase';
import { postedField, postedForm, postedId } from '@/lib/server/posted';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { runCommand } from '@/lib/server/run-command';
import { type ClockFormState, doneState, refusedState, typedOf } from '@/lib/view/clock/clock-edit';
import { editRefusal, entryPlace, readPhaseEdit, seenVersion } from '@/lib/view/phase-edit-form';
import type { EditTarget } from '@/lib/view/phase-edit-view';

const NOT_COMPUTED = 'The session was not reconstructed yet, so there is nothing to correct.';

/** An edge moved, a run split or named, contact declared. */
export async function editPhaseAction(
  place: Readonly<{ sessionId: string; target: EditTarget }>,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const sessionId = postedId(postedField(place, 'sessionId'));
  const { target } = { ...place };
  const typed = typedOf(postedForm(form));
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return refusedState(before, typed, { message: NOT_COMPUTED });
  const read = readPhaseEdit(typed, target, entryPlace(reconstruction));
  if (read.word === null) return refusedState(before, typed, { message: '', fields: read.fields });
  const version = Number(typed.version);
  const result = await runCommand(correctPhase, { sessionId, version, word: read.word });
  revalidatePath(`/sessions/${encodeURIComponent(sessionId)}`, 'layout');
  if (!result.ok) {
    const next = seenVersion(typed, result);
    return refusedState(before, next, { ...result, message: editRefusal(result) });
  }
  return doneState(before, 'Kept.');
}
