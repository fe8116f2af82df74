'use server';

import { revalidatePath } from 'next/cache';
import { editArrangement } from '@/lib/server/commands/edit-arrangement';
import { keepArrangement } from '@/lib/server/commands/keep-arrangement';
import type { Arrangement } from '@/lib/server/queries/load-arrangements';
import { type CommandResult, runCommand } from '@/lib/server/run-command';

export async function keepTimelineArrangement(
  sessionId: string,
  arrangement: Readonly<{ name: string; query: string }>,
): Promise<CommandResult<Arrangement>> {
  const result = await runCommand(keepArrangement, arrangement);
  if (result.ok) revalidatePath(`/sessions/${sessionId}/timeline`);
  return result;
}

export async function editTimelineArrangement(
  sessionId: string,
  arrangement: Arrangement & Readonly<{ state: 'kept' | 'removed' }>,
): Promise<CommandResult<Arrangement>> {
  const result = await runCommand(editArrangement, arrangement);
  if (result.ok) revalidatePath(`/sessions/${sessionId}/timeline`);
  return result;
}
