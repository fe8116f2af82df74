'use server';

import { revalidatePath } from 'next/cache';
import { answerCrewQuestion } from '@/lib/server/commands/answer-crew-question';
import { askCrew } from '@/lib/server/commands/ask-crew';
import { editCrewQuestion } from '@/lib/server/commands/edit-crew-question';
import { removeCrewQuestion } from '@/lib/server/commands/remove-crew-question';
import { restoreCrewQuestion } from '@/lib/server/commands/restore-crew-question';
import { postedField, postedForm, postedId } from '@/lib/server/posted';
import { type CommandResult, runCommand } from '@/lib/server/run-command';
import { type ClockFormState, doneState, refusedState, typedOf } from '@/lib/view/clock/clock-edit';
import { readQuestion } from '@/lib/view/crew-questions-view';

type Existing = Readonly<{ id: string; version: number }>;

function revalidate(sessionId: unknown): void {
  revalidatePath(`/sessions/${encodeURIComponent(postedId(sessionId))}/questions`);
}

/** Puts a question on the sheet. */
export async function askAction(
  place: Readonly<{ sessionId: string; channels: readonly string[] }>,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const typed = typedOf(postedForm(form));
  const channels = postedField(place, 'channels');
  const read = readQuestion(typed, Array.isArray(channels) ? channels.map(String) : []);
  if (read.word === null) {
    const message = 'Nothing was kept: see beside the fields.';
    return refusedState(before, typed, { message, fields: read.fields });
  }
  const sessionId = postedField(place, 'sessionId');
  const result = await runCommand(askCrew, { sessionId, ...read.word });
  if (!result.ok) return refusedState(before, typed, result);
  revalidate(sessionId);
  return doneState(before, `Question ${result.data.number} is on the sheet.`);
}

type Place = Readonly<{ sessionId: string }> & Existing;

/** Keeps an answer beneath the question; other words of the question where nobody answered yet. */
export async function answerAction(
  place: Place,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const typed = typedOf(postedForm(form));
  const [id, version] = [postedField(place, 'id'), postedField(place, 'version')];
  const { text = '', by = '' } = typed;
  const result = await runCommand(answerCrewQuestion, { id, version, text, by });
  return ended(result, { place, before, typed, done: 'Kept, word for word.' });
}

export async function rewordAction(
  place: Place,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const typed = typedOf(postedForm(form));
  const [id, version] = [postedField(place, 'id'), postedField(place, 'version')];
  const { question = '' } = typed;
  const result = await runCommand(editCrewQuestion, { id, version, question });
  return ended(result, { place, before, typed, done: 'Kept.' });
}

type Ending = Readonly<{
  place: Place;
  before: ClockFormState;
  typed: Readonly<Record<string, string>>;
  done: string;
}>;

function ended(result: CommandResult<unknown>, ending: Ending): ClockFormState {
  const { place, before, typed, done } = ending;
  // Refused because somebody was quicker: what they wrote then stands over what was typed.
  revalidate(postedField(place, 'sessionId'));
  return result.ok ? doneState(before, done) : refusedState(before, typed, result);
}

/** @returns what stood in the way; null where nothing did */
export async function removeQuestionAction(place: Place): Promise<string | null> {
  return moved(place, removeCrewQuestion);
}

/** As above, for putting it back. */
export async function restoreQuestionAction(place: Place): Promise<string | null> {
  return moved(place, restoreCrewQuestion);
}

async function moved(place: Place, command: typeof removeCrewQuestion): Promise<string | null> {
  const [id, version] = [postedField(place, 'id'), postedField(place, 'version')];
  const result = await runCommand(command, { id, version });
  revalidate(postedField(place, 'sessionId'));
  return result.ok ? null : result.message;
}
