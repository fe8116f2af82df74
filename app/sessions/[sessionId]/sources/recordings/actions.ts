'use server';

import { revalidatePath } from 'next/cache';
import { attachRecording } from '@/lib/server/commands/attach-recording';
import { clockRecording } from '@/lib/server/commands/clock-recording';
import { deleteRecordingFile } from '@/lib/server/commands/delete-recording-file';
import { removeRecording } from '@/lib/server/commands/remove-recording';
import { restoreRecording } from '@/lib/server/commands/restore-recording';
import { restoreRecordingClock } from '@/lib/server/commands/restore-recording-clock';
import { undoRecordingClock } from '@/lib/server/commands/undo-recording-clock';
import { postedId } from '@/lib/server/posted';
import { type CommandResult, runCommand } from '@/lib/server/run-command';

type Ties = readonly (readonly [number, number])[];

function shown<Data>(sessionId: unknown, result: CommandResult<Data>): string | null {
  revalidatePath(`/sessions/${encodeURIComponent(postedId(sessionId))}`, 'layout');
  return result.ok ? null : result.message;
}

/** @returns why it was refused; null where it is attached */
export async function attachAction(
  sessionId: string,
  recording: Readonly<{ uploadId: string; ties: Ties }>,
): Promise<string | null> {
  return shown(sessionId, await runCommand(attachRecording, { ...recording, sessionId }));
}

/** As above, for its clock. */
export async function clockAction(
  sessionId: string,
  clock: Readonly<{ id: string; version: number; ties: Ties; reason: string }>,
): Promise<string | null> {
  return shown(sessionId, await runCommand(clockRecording, clock));
}

const ACTS = {
  'take off': removeRecording,
  'put back': restoreRecording,
  'delete file': deleteRecordingFile,
  'undo clock': undoRecordingClock,
  'put clock back': restoreRecordingClock,
} as const;

export type RecordingAct = keyof typeof ACTS;

/** As above, for what needs nothing but the place of a recording or of a word about its clock. */
export async function recordingAction(
  sessionId: string,
  act: RecordingAct,
  place: Readonly<{ id: string; version: number }>,
): Promise<string | null> {
  const command = Object.hasOwn(ACTS, act) ? ACTS[act] : null;
  if (command === null) return 'This is not known here.';
  return shown(sessionId, await runCommand(command, place));
}
