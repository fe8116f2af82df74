'use server';

import { revalidatePath } from 'next/cache';
import { correctClock } from '@/lib/server/commands/correct-clock';
import { postedForm } from '@/lib/server/posted';
import { runCommand } from '@/lib/server/run-command';
import {
  type ClockFormState,
  doneState,
  type ReadForm,
  readJudgement,
  readTiePoint,
  refusedState,
  type Typed,
  typedOf,
} from '@/lib/view/clock/clock-edit';

type Source = Readonly<{ sessionId: string; source: string }>;

/** A spoken value accepted, corrected or kept out. */
export async function judgeAction(
  place: Source & Readonly<{ line: number; nth: number }>,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const { sessionId, ...where } = { ...place };
  const typed = typedOf(postedForm(form));
  return correct({ sessionId, read: readJudgement(typed, where) }, before, typed);
}

/** A moment of the source's own clock set on session time by hand. */
export async function tiePointAction(
  place: Source,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const { sessionId, source } = { ...place };
  const typed = typedOf(postedForm(form));
  return correct({ sessionId, read: readTiePoint(typed, source) }, before, typed);
}

async function correct(
  { sessionId, read }: Readonly<{ sessionId: string; read: ReadForm }>,
  before: ClockFormState,
  typed: Typed,
): Promise<ClockFormState> {
  if (read.word === null) return refusedState(before, typed, { message: '', fields: read.fields });
  const result = await runCommand(correctClock, { sessionId, word: read.word });
  if (!result.ok) return refusedState(before, typed, result);
  revalidatePath(`/sessions/${encodeURIComponent(sessionId)}/sources/clock`);
  return doneState(before, 'Kept. This page shows the new clock when it is computed.');
}
