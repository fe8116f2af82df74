/** Hands an upload over to the import. */
import { stat } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { listFiles } from '../durable-files';
import { wakeQueue } from '../jobs/queue';
import { newId } from '../new-id';
import { toJson } from '../rows';
import { isUploadId, uploadFolder } from '../uploads/receive-file';
import { defineCommand } from './define-command';

const input = z.object({ uploadId: z.string().refine(isUploadId, 'This is no upload.') });

async function uploadedBytes(uploadId: string): Promise<number> {
  const folder = path.join(uploadFolder(uploadId), 'files');
  const names = await listFiles(folder).catch(() => []);
  if (names.length === 0) {
    throw new DomainError('no-such-upload', 'This upload is no longer there: start again.');
  }
  const sizes = await Promise.all(names.map((name) => stat(path.join(folder, name))));
  return sizes.reduce((sum, file) => sum + file.size, 0);
}

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
    const bytesTotal = BigInt(await uploadedBytes(uploadId));
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
