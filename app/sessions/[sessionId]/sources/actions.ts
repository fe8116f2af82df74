'use server';

import { replaceFile } from '@/lib/server/commands/replace-file';
import { type CommandResult, runCommand } from '@/lib/server/run-command';

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
