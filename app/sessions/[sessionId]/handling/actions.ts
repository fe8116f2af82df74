'use server';

import { revalidatePath } from 'next/cache';
import { defineTask } from '@/lib/server/commands/define-task';
import { giveRating } from '@/lib/server/commands/give-rating';
import { giveTaskLoad } from '@/lib/server/commands/give-task-load';
import { postedForm } from '@/lib/server/posted';
import { runCommand } from '@/lib/server/run-command';
import { type ClockFormState, doneState, refusedState, typedOf } from '@/lib/view/clock/clock-edit';
import { readRating, readTask, readTaskLoad } from '@/lib/view/handling-edit';

type Place = Readonly<{ sessionId: string }>;

function revalidate(sessionId: string): void {
  revalidatePath(`/sessions/${encodeURIComponent(sessionId)}/handling`);
}

/** Names a task that was flown by hand. */
export async function defineTaskAction(
  { sessionId }: Place,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const typed = typedOf(postedForm(form));
  const read = readTask(typed);
  if (read.word === null) {
    const message = 'Nothing was kept: see beside the fields.';
    return refusedState(before, typed, { message, fields: read.fields });
  }
  const result = await runCommand(defineTask, { sessionId, ...read.word });
  if (!result.ok) return refusedState(before, typed, result);
  revalidate(sessionId);
  return doneState(before, 'Kept. It stands here with its measures in a moment.');
}

/** Gives a rating to a task. */
export async function giveRatingAction(
  { sessionId, task }: Place & Readonly<{ task: string }>,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const typed = typedOf(postedForm(form));
  const read = readRating(typed);
  if (read.word === null) {
    return refusedState(before, typed, { message: 'Choose a rating.', fields: read.fields });
  }
  const result = await runCommand(giveRating, { sessionId, task, ...read.word });
  if (!result.ok) return refusedState(before, typed, result);
  revalidate(sessionId);
  return doneState(before, 'Kept. It stands with the task in a moment.');
}

/** Gives a task load to a task. */
export async function giveTaskLoadAction(
  { sessionId, task }: Place & Readonly<{ task: string }>,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const typed = typedOf(postedForm(form));
  const read = readTaskLoad(typed);
  if (read.word === null) {
    const message = 'Nothing was kept: see beside the fields.';
    return refusedState(before, typed, { message, fields: read.fields });
  }
  const result = await runCommand(giveTaskLoad, { sessionId, task, ...read.word });
  if (!result.ok) return refusedState(before, typed, result);
  revalidate(sessionId);
  return doneState(before, 'Kept. It stands with the task in a moment.');
}
