'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { removeDemo } from '@/lib/server/commands/remove-demo';
import { removeSession } from '@/lib/server/commands/remove-session';
import { postedForm } from '@/lib/server/posted';
import { runCommand } from '@/lib/server/run-command';

/** A row of the list is removed; one that is gone already is no fault. */
export async function removeSessionAction(posted: FormData): Promise<void> {
  const form = postedForm(posted);
  const version = Number(form.get('version'));
  await runCommand(removeSession, { sessionId: form.get('sessionId'), version });
  revalidatePath('/');
  redirect('/');
}

export async function removeDemoAction(): Promise<void> {
  await runCommand(removeDemo, {});
  revalidatePath('/');
  redirect('/');
}
