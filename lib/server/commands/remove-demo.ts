/** Removes the invented demo wholly: session, findings, draft, publications, files. It stays away. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { abortJob, requestSweep } from '../jobs/queue';
import { deleteDemoSessions, removePublishedFolders } from '../jobs/remove-demo-rows';
import { type CommandContext, defineCommand } from './define-command';

async function cancelDemoJobs(context: CommandContext): Promise<number> {
  const where = {
    teamId: context.actor.teamId,
    kind: 'demo',
    state: { in: ['waiting', 'running'] },
  };
  const open = await context.tx.job.findMany({ where, select: { id: true } });
  await context.tx.job.updateMany({
    where: { ...where, state: 'waiting' },
    data: { state: 'cancelled', endedAt: context.now },
  });
  await context.tx.job.updateMany({ where, data: { cancelRequested: true } });
  context.afterCommit(() => {
    for (const job of open) abortJob(job.id);
  });
  return open.length;
}

export const removeDemo = defineCommand({
  name: 'remove-demo',
  input: z.strictObject({}),
  may: () => true,
  subject: () => 'demo',
  run: async (context): Promise<Readonly<{ sessions: number }>> => {
    const { teamId } = context.actor;
    const openJobs = await cancelDemoJobs(context);
    const { sessionCount, publishedFolders } = await deleteDemoSessions(context.tx, teamId);
    if (sessionCount + openJobs === 0) {
      throw new DomainError('no-demo', 'The demo is not there.');
    }
    context.afterCommit(async () => {
      await removePublishedFolders(publishedFolders);
      requestSweep();
    });
    return { sessions: sessionCount };
  },
});
