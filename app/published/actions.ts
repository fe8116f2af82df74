'use server';

import { revalidatePath } from 'next/cache';
import { requireRoles } from '@/lib/server/commands/require-roles';
import { restoreDebrief } from '@/lib/server/commands/restore-debrief';
import { setNumberScheme } from '@/lib/server/commands/set-number-scheme';
import { withdrawDebrief } from '@/lib/server/commands/withdraw-debrief';
import { type CommandResult, runCommand } from '@/lib/server/run-command';

type Done = CommandResult<Readonly<{ id: string }>>;

/** What the next debriefs are called; `seen` is the scheme that the form began with. */
export async function setSchemeAction(scheme: string, seen: string): Promise<Done> {
  const result = await runCommand(setNumberScheme, { scheme, seen });
  // Refused because somebody was quicker, the page has to show what they wrote.
  revalidatePath('/published');
  return result;
}

/** Which roles must approve, one a line; `seen` is what the form began with. */
export async function requireRolesAction(roles: string, seen: string): Promise<Done> {
  const result = await runCommand(requireRoles, { roles, seen });
  // Refused because somebody was quicker, the page has to show what they wrote.
  revalidatePath('/published');
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

/** Takes the withdrawal that was looked at back, with the reason. */
export async function restoreAction(
  seen: Readonly<{ number: number; revision: number; withdrawnAtIso: string }>,
  reason: string,
): Promise<Done> {
  const result = await runCommand(restoreDebrief, { ...seen, reason });
  if (result.ok || result.code === 'changed-meanwhile') revalidatePath('/published', 'layout');
  return result;
}
