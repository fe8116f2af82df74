/** Hands an upload over to the import. */
import { z } from 'zod';
import { wakeQueue } from '../jobs/queue';
import { newId } from '../new-id';
import { toJson } from '../rows';
import { isUploadId } from '../uploads/receive-file';
import { defineCommand } from './define-command';
import { requireUpload } from './require-upload';

const input = z.object({ uploadId: z.string().refine(isUploadId, 'This is no upload.') });

export const startImport = defineCommand({
  name: 'start-import',
  input,
  may: () => true,
  run: async (context, { uploadId }): Promise<Readonly<{ jobId: string }>> => {
    const { teamId } = context.actor;
    const text = toJson({ uploadId });
    // Asked for a second time, as by a double click: it is the same work, with one address.
    const where = { teamId, input: text };
    const twice = await context.tx.job.findFirst({ where, select: { id: true } });
    if (twice !== null) return { jobId: twice.id };
    const bytesTotal = await requireUpload(context.tx, uploadId);
    const jobId = newId();
    await context.tx.job.create({
      data: {
        id: jobId,
        teamId,
        kind: 'import',
        state: 'waiting',
        stage: 'Waiting for its turn',
        bytesTotal,
        input: text,
        createdAt: context.now,
      },
      select: { id: true },
    });
    context.afterCommit(wakeQueue);
    return { jobId };
  },
});
