'use server';

import { revalidatePath } from 'next/cache';
import { addRunSession } from '@/lib/server/commands/add-run-session';
import { createModelChange } from '@/lib/server/commands/create-model-change';
import { editModelChange } from '@/lib/server/commands/edit-model-change';
import { removeModelChange } from '@/lib/server/commands/remove-model-change';
import { undoModelChange } from '@/lib/server/commands/undo-model-change';
import { postedField, postedForm, postedId } from '@/lib/server/posted';
import { captureFigures } from '@/lib/server/queries/capture-figures';
import { loadModelChanges } from '@/lib/server/queries/load-model-changes';
import { runCommand } from '@/lib/server/run-command';
import { type ClockFormState, doneState, refusedState, typedOf } from '@/lib/view/clock/clock-edit';
import { questionOfQuery } from '@/lib/view/compare-question';
import { changedMeanwhile, chosenKeys, modelChangeWords } from '@/lib/view/model-change-view';

/** `id` and `version` of the change that is edited; both null for a new one. */
export type ChangePlace = Readonly<{
  sessionId: string;
  id: string | null;
  version: number | null;
  query: string;
}>;

function revalidate(sessionId: string): void {
  revalidatePath(`/sessions/${encodeURIComponent(sessionId)}/comparison`);
}

/** Keeps a change, new or edited; without newly chosen evidence an edited one keeps its own. */
export async function saveModelChangeAction(
  place: ChangePlace,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const posted = postedForm(form);
  const typed = typedOf(posted);
  const sessionId = postedId(postedField(place, 'sessionId'));
  const id = postedField(place, 'id');
  const known = (await loadModelChanges(sessionId)).find((change) => change.id === id);
  const query = postedId(postedField(place, 'query'));
  const chosen = await captureFigures(sessionId, chosenKeys(posted), questionOfQuery(query));
  const figures = chosen.length === 0 ? (known?.figures ?? []) : chosen;
  const words = { ...modelChangeWords(typed), figures };
  const version = postedField(place, 'version');
  const result =
    id === null
      ? await runCommand(createModelChange, { sessionId, ...words })
      : await runCommand(editModelChange, { id, version, ...words });
  if (!result.ok) {
    const isLate = result.code === 'changed-meanwhile';
    const message = isLate ? changedMeanwhile(result.newer) : result.message;
    return refusedState(before, typed, { ...result, message });
  }
  revalidate(sessionId);
  return doneState(before, 'Kept.');
}

type Existing = Readonly<{ id: string; version: number }>;

/** @returns what stood in the way; null where nothing did */
export async function removeModelChangeAction(
  sessionId: string,
  existing: Existing,
): Promise<string | null> {
  const result = await runCommand(removeModelChange, existing);
  if (!result.ok) return result.message;
  revalidate(postedId(sessionId));
  return null;
}

/** As above, for taking back the last change of a row. */
export async function undoModelChangeAction(
  sessionId: string,
  existing: Existing,
): Promise<string | null> {
  const result = await runCommand(undoModelChange, existing);
  if (!result.ok) return result.message;
  revalidate(postedId(sessionId));
  return null;
}

/** Holds the session against another that is here. */
export async function addRunSessionAction(
  { sessionId }: Readonly<{ sessionId: string }>,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const typed = typedOf(postedForm(form));
  const { run = '', basis = '' } = typed;
  const result = await runCommand(addRunSession, { sessionId, run, basis });
  if (!result.ok) return refusedState(before, typed, result);
  revalidate(postedId(sessionId));
  return doneState(before, 'Kept. It counts when the comparison has been computed again.');
}
