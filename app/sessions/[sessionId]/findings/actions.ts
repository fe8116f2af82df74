'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { createFinding } from '@/lib/server/commands/create-finding';
import { editFinding } from '@/lib/server/commands/edit-finding';
import { postedField, postedForm, postedId, postedNumber } from '@/lib/server/posted';
import { captureFigures } from '@/lib/server/queries/capture-figures';
import { loadFindings } from '@/lib/server/queries/load-findings';
import { runCommand } from '@/lib/server/run-command';
import { type ClockFormState, doneState, refusedState, typedOf } from '@/lib/view/clock/clock-edit';
import { questionOfQuery } from '@/lib/view/compare-question';
import { type EditState, editStateAfter, wordsOfForm } from '@/lib/view/finding-edit';
import { type FindingPlace, findingPlace } from '@/lib/view/finding-place';

type Place = Readonly<{ sessionId: string; number: number }>;

/** Writes a finding from a screen's own numbers: they are captured as they are now. */
export async function writeFindingAction(
  place: FindingPlace,
  before: ClockFormState,
  form: FormData,
): Promise<ClockFormState> {
  const typed = typedOf(postedForm(form));
  const { fromS, toS, channels, keys, query } = findingPlace(place);
  const sessionId = postedId(postedField(place, 'sessionId'));
  const figures = await captureFigures(sessionId, keys, questionOfQuery(query));
  const { title = '', seen = '', kind = '', severity = '' } = typed;
  const words = { title, seen, kind, severity, fromS, toS, channels, figures };
  const result = await runCommand(createFinding, { sessionId, ...words });
  if (!result.ok) return refusedState(before, typed, result);
  revalidatePath(`/sessions/${encodeURIComponent(sessionId)}/findings`);
  const { number } = result.data;
  return doneState(before, `Kept as finding ${number}, with ${figures.length} figures.`);
}

/** Saves the words of a finding; its stretch and figures stay as they were captured. */
export async function editFindingAction(
  place: Place,
  before: EditState,
  form: FormData,
): Promise<EditState> {
  const sessionId = postedId(postedField(place, 'sessionId'));
  const number = postedNumber(postedField(place, 'number'));
  const words = wordsOfForm(postedForm(form));
  const now = (await loadFindings(sessionId)).find((finding) => finding.number === number);
  if (now === undefined) {
    return editStateAfter(before, words, { ok: false, code: 'not-found', message: 'It is gone.' });
  }
  const { id, anchor, figures } = now;
  const { fromS, toS, channels } = anchor;
  const input = { ...words, id, fromS, toS, channels, figures, version: Number(words.version) };
  const result = await runCommand(editFinding, input);
  if (!result.ok) return editStateAfter(before, words, result);
  const path = `/sessions/${encodeURIComponent(sessionId)}/findings/${number}`;
  revalidatePath(path);
  redirect(path);
}
