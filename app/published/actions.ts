'use server';

import { revalidatePath } from 'next/cache';
import { setNumberScheme } from '@/lib/server/commands/set-number-scheme';
import { withdrawDebrief } from '@/lib/server/commands/withdraw-debrief';
import { type CommandResult, runCommand } from '@/lib/server/run-command';

type Done = CommandResult<Readonly<{ id: string }>>;

/** What the next debriefs are called. */
export async function setSchemeAction(scheme: string): Promise<Done> {
  const result = await runCommand(setNumberScheme, { scheme });
  if (result.ok) revalidatePath('/published');
  return result;
}

/** Withdraws one revision, with the reason. */
export async function withdrawAction(
  place: Readonly<{ number: number; revision: number }>,
  reason: string,
): Promise<Done> {
  const result = await runCommand(withdrawDebrief, { ...place, reason });
  if (result.ok) revalidatePath('/published', 'layout');
  return result;
}
