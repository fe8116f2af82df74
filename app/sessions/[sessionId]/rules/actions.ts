'use server';

import { revalidatePath } from 'next/cache';
import { disposeRule } from '@/lib/server/commands/dispose-rule';
import { sendBlock } from '@/lib/server/commands/send-block';
import { postedField, postedForm, postedId, postedNumber } from '@/lib/server/posted';
import { loadReconstruction } from '@/lib/server/queries/load-reconstruction';
import { runCommand } from '@/lib/server/run-command';
import { type ClockFormState, doneState, refusedState, typedOf } from '@/lib/view/clock/clock-edit';
import { type SentView, sentView } from '@/lib/view/debrief/sent-view';
import { readDisposition } from '@/lib/view/dispositions-view';
import { entryPlace } from '@/lib/view/phase-edit-form';
import { boardBlock } from '@/lib/view/poll-view';

const NOT_COMPUTED = 'The session was not reconstructed yet, so no rule was judged.';

/** Puts the board of an instant into the draft of the debrief. */
export async function putPollInDebrief(sessionId: string, atS: number): Promise<SentView> {
  const id = postedId(sessionId);
  const reconstruction = await loadReconstruction(id);
  const block = reconstruction === null ? {} : boardBlock(reconstruction, postedNumber(atS));
  return sentView(await runCommand(sendBlock, { sessionId: id, ...block }), id);
}

/** A rule waived or amended: kept with who, when and which log entry. */
export async function disposeAction(
  place: Readonly<{ sessionId: string }>,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const sessionId = postedId(postedField(place, 'sessionId'));
  const typed = typedOf(postedForm(form));
  const reconstruction = await loadReconstruction(sessionId);
  if (reconstruction === null) return refusedState(before, typed, { message: NOT_COMPUTED });
  const read = readDisposition(typed, entryPlace(reconstruction));
  if (read.word === null) {
    const message = 'Nothing was kept: see beside the fields.';
    return refusedState(before, typed, { message, fields: read.fields });
  }
  const result = await runCommand(disposeRule, { sessionId, ...read.word });
  if (!result.ok) return refusedState(before, typed, result);
  revalidatePath(`/sessions/${encodeURIComponent(sessionId)}/rules`);
  return doneState(before, 'Kept. No verdict changes; it stands beside its rule in a moment.');
}
