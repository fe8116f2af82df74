'use server';

import { revalidatePath } from 'next/cache';
import { putInUse } from '@/lib/server/commands/put-in-use';
import { saveVersion } from '@/lib/server/commands/save-version';
import { tryVersion } from '@/lib/server/commands/try-version';
import { postedId } from '@/lib/server/posted';
import { loadTrial } from '@/lib/server/queries/load-trial';
import { type CommandResult, runCommand } from '@/lib/server/run-command';
import { type TrialView, trialView } from '@/lib/view/plans/trial-view';

type Asked = Readonly<{ jobId: string; sha256: string }>;
type Saved = Readonly<{ id: string; entryId: string; number: number }>;
type Used = Readonly<{ sessionId: string; jobId: string }>;

/** Reads sessions with a draft, in the background. */
export async function tryVersionAction(asked: unknown): Promise<CommandResult<Asked>> {
  return runCommand(tryVersion, asked);
}

/** What a trial came to; null where it came to nothing. */
export async function readTrialAction(jobId: string): Promise<TrialView | null> {
  const kept = await loadTrial(postedId(jobId));
  return kept === null ? null : trialView(kept);
}

export async function saveVersionAction(asked: unknown): Promise<CommandResult<Saved>> {
  const result = await runCommand(saveVersion, asked);
  if (result.ok) revalidatePath('/plans', 'layout');
  return result;
}

export async function putInUseAction(asked: unknown): Promise<CommandResult<Used>> {
  const result = await runCommand(putInUse, asked);
  if (result.ok) {
    revalidatePath('/plans', 'layout');
    revalidatePath(`/sessions/${encodeURIComponent(result.data.sessionId)}`, 'layout');
  }
  // The page then shows what stands beside what was asked for.
  else if (result.code === 'changed-meanwhile') revalidatePath('/plans', 'layout');
  return result;
}
