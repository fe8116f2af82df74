'use server';

import { revalidatePath } from 'next/cache';
import { correctStretch } from '@/lib/server/commands/correct-stretch';
import { postedForm } from '@/lib/server/posted';
import { runCommand } from '@/lib/server/run-command';
import {
  type ClockFormState,
  doneState,
  readStretch,
  refusedState,
  typedOf,
} from '@/lib/view/clock/clock-edit';

export type StretchPlace = Readonly<{ sessionId: string; source: string }>;

/** A stretch of a channel kept in the figures, or left out of them. */
export async function stretchAction(
  place: StretchPlace,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const { sessionId, source } = { ...place };
  const typed = typedOf(postedForm(form));
  const read = readStretch(typed, source);
  if (read.word === null) {
    const message = 'Nothing was kept: see beside the fields.';
    return refusedState(before, typed, { message, fields: read.fields });
  }
  const result = await runCommand(correctStretch, { sessionId, ...read.word });
  if (!result.ok) return refusedState(before, typed, result);
  revalidatePath(`/sessions/${encodeURIComponent(sessionId)}/sources/stretches`);
  return doneState(before, 'Kept. The figures are being computed again with it.');
}
