/** Asks long work to stop; nothing of it is kept. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { cancelWork, OPEN_JOB_COLUMNS, OPEN_STATES } from '../jobs/cancel-work';
import { defineCommand } from './define-command';

export const cancelJob = defineCommand({
  name: 'cancel-job',
  input: z.object({ jobId: z.string().min(1) }),
  may: () => true,
  run: async (context, { jobId }): Promise<Readonly<{ jobId: string }>> => {
    const job = await context.tx.job.findFirst({
      where: { id: jobId, teamId: context.actor.teamId },
      select: OPEN_JOB_COLUMNS,
    });
    if (job === null) throw new DomainError('no-such-job', 'This work is not there.');
    if (!OPEN_STATES.includes(job.state)) {
      throw new DomainError('job-over', 'This work has already ended.');
    }
    await cancelWork(context, job);
    return { jobId };
  },
});
