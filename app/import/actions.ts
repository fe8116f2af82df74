'use server';

import { cancelJob } from '@/lib/server/commands/cancel-job';
import { startImport } from '@/lib/server/commands/start-import';
import { type CommandResult, runCommand } from '@/lib/server/run-command';

export async function startImportAction(
  uploadId: string,
): Promise<CommandResult<Readonly<{ jobId: string }>>> {
  return runCommand(startImport, { uploadId });
}

export async function cancelJobAction(
  jobId: string,
): Promise<CommandResult<Readonly<{ jobId: string }>>> {
  return runCommand(cancelJob, { jobId });
}
