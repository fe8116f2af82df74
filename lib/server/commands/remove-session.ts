/** Removes a session with its sources, findings and draft, and ends work on it. What was published stays. */
import { z } from 'zod';
import { cancelWork, OPEN_JOB_COLUMNS, OPEN_STATES } from '../jobs/cancel-work';
import { requestSweep } from '../jobs/queue';
import { deleteUnusedVersions } from '../jobs/remove-demo-rows';
import { removeSessionFiles } from '../jobs/session-files';
import { removeRecordingFile } from '../recordings/recording-files';
import { defineCommand } from './define-command';

export const removeSession = defineCommand({
  name: 'remove-session',
  input: z.object({ sessionId: z.string().min(1), version: z.int() }),
  may: () => true,
  version: {
    expected: (input) => input.version,
    load: async (context, { sessionId }) => {
      const row = await context.tx.session.findFirst({
        where: { id: sessionId, teamId: context.actor.teamId },
        select: { version: true, title: true },
      });
      return row === null ? null : { version: row.version, value: { title: row.title } };
    },
  },
  run: async (context, { sessionId }): Promise<Readonly<{ sessionId: string }>> => {
    // Work on it would find nothing to keep its outcome in.
    const open = await context.tx.job.findMany({
      where: { sessionId, state: { in: OPEN_STATES } },
      select: OPEN_JOB_COLUMNS,
    });
    for (const job of open) await cancelWork(context, job);
    const recordings = await context.tx.recording.findMany({
      where: { sessionId },
      select: { folder: true },
    });
    await context.tx.session.delete({ where: { id: sessionId }, select: { id: true } });
    await deleteUnusedVersions(context.tx, context.actor.teamId);
    context.afterCommit(async () => {
      await removeSessionFiles(sessionId);
      for (const { folder } of recordings) await removeRecordingFile(folder);
      requestSweep();
    });
    return { sessionId };
  },
});
