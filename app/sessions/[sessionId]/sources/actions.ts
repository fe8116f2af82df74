'use server';

import { revalidatePath } from 'next/cache';
import { replaceFile } from '@/lib/server/commands/replace-file';
import { restoreCorrection } from '@/lib/server/commands/restore-correction';
import { undoCorrection } from '@/lib/server/commands/undo-correction';
import { undoFolderCorrection } from '@/lib/server/commands/undo-folder-correction';
import { postedId } from '@/lib/server/posted';
import { type CommandResult, runCommand } from '@/lib/server/run-command';
import { type CorrectionRow, undoRefusal } from '@/lib/view/clock/correction-list';

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

type Undoing = Readonly<{
  correction: CorrectionRow['undo'];
  to: 'undo' | 'put back';
}>;

/** @returns why it was refused; null where it is undone, or counts again */
export async function undoAction(
  sessionId: string,
  { correction, to }: Undoing,
): Promise<string | null> {
  const named = postedId(sessionId);
  const result =
    'words' in correction
      ? await runCommand(undoFolderCorrection, { sessionId: named, ...correction })
      : await runCommand(to === 'undo' ? undoCorrection : restoreCorrection, correction);
  revalidatePath(`/sessions/${encodeURIComponent(named)}`, 'layout');
  return result.ok ? null : undoRefusal(result);
}
