/** Uploads and jobs of a test, without a browser. */
import { cpSync, mkdirSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { newId } from '@/lib/server/new-id';
import { type JobView, readJob } from '@/lib/server/queries/load-job';
import type { CommandResult } from '@/lib/server/run-command';
import { uploadFolder } from '@/lib/server/uploads/receive-file';

/** Puts files where an upload would have put them; returns its id. */
export function sendFiles(put: (files: string) => void): string {
  const uploadId = newId();
  const files = path.join(uploadFolder(uploadId), 'files');
  mkdirSync(files, { recursive: true });
  put(files);
  return uploadId;
}

/** Sends a folder as it is. */
export function sendFolder(folder: string): string {
  return sendFiles((files) => cpSync(folder, files, { recursive: true }));
}

/** Waits for the job that a command started. */
export async function endedJob(
  started: Promise<CommandResult<Readonly<{ jobId: string }>>>,
): Promise<JobView> {
  const result = await started;
  if (!result.ok) throw new Error(result.message);
  const { jobId } = result.data;
  await expect
    .poll(() => readJob(jobId))
    .toSatisfy((job: JobView | null) => job !== null && job.endedAtIso !== null);
  return (await readJob(jobId)) ?? Promise.reject(new Error('no such job'));
}
