/** Open work asked to stop: what waits ends in the transaction, what runs is broken off after it. */
import { z } from 'zod';
import type { CommandContext } from '../commands/define-command';
import { parseJson } from '../rows';
import { removeUpload } from '../uploads/receive-file';
import { abortJob } from './queue';

/** States of a job that has not ended. */
export const OPEN_STATES: string[] = ['waiting', 'running'];

/** What is read of a job's row before it is cancelled. */
export const OPEN_JOB_COLUMNS = { id: true, state: true, input: true } as const;

type OpenJob = Readonly<{ id: string; state: string; input: string }>;

const namesUpload = z.looseObject({ uploadId: z.string().optional() });

/** Nothing of the work is kept, its upload neither: a job that runs removes that itself. */
export async function cancelWork(context: CommandContext, job: OpenJob): Promise<void> {
  const isWaiting = job.state === 'waiting';
  const ended = isWaiting ? { state: 'cancelled', endedAt: context.now } : {};
  await context.tx.job.update({
    where: { id: job.id },
    data: { cancelRequested: true, ...ended },
    select: { id: true },
  });
  context.afterCommit(async () => {
    abortJob(job.id);
    const { uploadId } = parseJson(namesUpload, job.input);
    if (isWaiting && uploadId !== undefined) await removeUpload(uploadId);
  });
}
