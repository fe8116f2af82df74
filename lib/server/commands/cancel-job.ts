/** Asks long work to stop; nothing of it is kept. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { abortJob } from '../jobs/queue';
import { importInput } from '../jobs/run-import';
import { parseJson } from '../rows';
import { removeUpload } from '../uploads/receive-file';
import { defineCommand } from './define-command';

export const cancelJob = defineCommand({
  name: 'cancel-job',
  input: z.object({ jobId: z.string().min(1) }),
  may: () => true,
  run: async (context, { jobId }): Promise<Readonly<{ jobId: string }>> => {
    const job = await context.tx.job.findFirst({
      where: { id: jobId, teamId: context.actor.teamId },
      select: { kind: true, state: true, input: true },
    });
    if (job === null) throw new DomainError('no-such-job', 'This work is not there.');
    if (job.state !== 'waiting' && job.state !== 'running') {
      throw new DomainError('job-over', 'This work has already ended.');
    }
    const ended = job.state === 'waiting' ? { state: 'cancelled', endedAt: context.now } : {};
    await context.tx.job.update({
      where: { id: jobId },
      data: { cancelRequested: true, ...ended },
      select: { id: true },
    });
    context.afterCommit(async () => {
      abortJob(jobId);
      if (job.state !== 'waiting' || job.kind !== 'import') return;
      await removeUpload(parseJson(importInput, job.input).uploadId);
    });
    return { jobId };
  },
});
