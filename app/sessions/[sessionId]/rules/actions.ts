'use server';

import { revalidatePath } from 'next/cache';
import { disposeRule } from '@/lib/server/commands/dispose-rule';
import { postedForm } from '@/lib/server/posted';
import { runCommand } from '@/lib/server/run-command';
import { type ClockFormState, doneState, refusedState, typedOf } from '@/lib/view/clock/clock-edit';
import { readDisposition } from '@/lib/view/dispositions-view';

/** A rule waived or amended: kept with who, when and which log entry. */
export async function disposeAction(
  place: Readonly<{ sessionId: string }>,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const { sessionId } = { ...place };
  const typed = typedOf(postedForm(form));
  const read = readDisposition(typed);
  if (read.word === null) {
    const message = 'Nothing was kept: see beside the fields.';
    return refusedState(before, typed, { message, fields: read.fields });
  }
  const result = await runCommand(disposeRule, { sessionId, ...read.word });
  if (!result.ok) return refusedState(before, typed, result);
  revalidatePath(`/sessions/${encodeURIComponent(sessionId)}/rules`);
  return doneState(before, 'Kept. No verdict changes; it stands beside its rule in a moment.');
}
