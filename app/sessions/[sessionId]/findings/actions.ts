'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { editFinding } from '@/lib/server/commands/edit-finding';
import { postedField, postedForm, postedId, postedNumber } from '@/lib/server/posted';
import { loadFindings } from '@/lib/server/queries/load-findings';
import { runCommand } from '@/lib/server/run-command';
import { type EditState, editStateAfter, wordsOfForm } from '@/lib/view/finding-edit';

type Place = Readonly<{ sessionId: string; number: number }>;

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
