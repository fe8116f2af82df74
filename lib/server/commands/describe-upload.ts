/** Writes the session.yaml that a person's description stands for, and hands the upload over. */
import { writeFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { syncToDisk } from '../durable-files';
import { SESSION_FILE } from '../jobs/find-session-root';
import { wakeQueue } from '../jobs/queue';
import { newId } from '../new-id';
import { checkDescription } from '../queries/check-description';
import { toJson } from '../rows';
import { isUploadId } from '../uploads/receive-file';
import { describedFolder, readUploadSketch } from '../uploads/upload-sketch';
import { defineCommand } from './define-command';
import { descriptionInput } from './description-input';

const input = z.object({
  uploadId: z.string().refine(isUploadId, 'This is no upload.'),
  description: descriptionInput,
});

export const describeUpload = defineCommand({
  name: 'describe-upload',
  input,
  may: () => true,
  prepare: async (_, { uploadId, description }): Promise<null> => {
    const sketch = await readUploadSketch(uploadId);
    if (sketch === null) {
      throw new DomainError('no-such-upload', 'This upload is no longer there: send it again.');
    }
    const { sessionYaml, issues } = checkDescription(sketch, description);
    if (sessionYaml === null) {
      const first = issues[0]?.message ?? 'something is open';
      throw new DomainError('description-open', `It is not complete: ${first}.`);
    }
    const file = path.join(describedFolder(uploadId, sketch.place), SESSION_FILE);
    await writeFile(file, sessionYaml);
    await syncToDisk(file);
    return null;
  },
  run: async (context, { uploadId }): Promise<Readonly<{ jobId: string }>> => {
    const text = toJson({ uploadId, described: true });
    const where = { input: text, state: { in: ['waiting', 'running'] } };
    const twice = await context.tx.job.findFirst({ where, select: { id: true } });
    if (twice !== null) return { jobId: twice.id };
    const jobId = newId();
    await context.tx.job.create({
      data: {
        id: jobId,
        teamId: context.actor.teamId,
        kind: 'import',
        state: 'waiting',
        stage: 'Waiting for its turn',
        input: text,
        createdAt: context.now,
      },
      select: { id: true },
    });
    context.afterCommit(wakeQueue);
    return { jobId };
  },
});
