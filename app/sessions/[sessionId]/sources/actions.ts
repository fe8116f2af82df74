'use server';

import { revalidatePath } from 'next/cache';
import { replaceFile } from '@/lib/server/commands/replace-file';
import { undoCorrection } from '@/lib/server/commands/undo-correction';
import { type CommandResult, runCommand } from '@/lib/server/run-command';
import { undoRefusal } from '@/lib/view/clock/correction-list';

export type Replacement = Readonly<{
  sessionId: string;
  version: number;
  file: string;
  uploadId: string;
}>;

export async function replaceFileAction(
  replacement: Replacement,
): Promise<CommandResult<Readonly<{ jobId: string }>>> {
  return runCommand(replaceFile, replacement);
}

/** @returns why it was refused; null where it is undone */
export async function undoAction(
  sessionId: string,
  correction: Readonly<{ id: string; version: number }>,
): Promise<string | null> {
  const result = await runCommand(undoCorrection, correction);
  revalidatePath(`/sessions/${encodeURIComponent(sessionId)}/sources`);
  return result.ok ? null : undoRefusal(result);
}
