/** Writes the session.yaml that a person's description stands for, and hands the upload over. */
import { rename, rm } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { crashPoint } from '../crash-point';
import { syncToDisk } from '../durable-files';
import { SESSION_FILE } from '../jobs/find-session-root';
import { wakeQueue } from '../jobs/queue';
import { newId } from '../new-id';
import { checkDescription } from '../queries/check-description';
import { toJson } from '../rows';
import { isSystemError, writeDurably } from '../samples/durable-files';
import { keepDoubts } from '../uploads/described-doubts';
import { isUploadId, uploadFolder } from '../uploads/receive-file';
import { describedFolder, readUploadSketch } from '../uploads/upload-sketch';
import { defineCommand } from './define-command';
import { descriptionInput } from './description-input';
import { openJobOf, uploadGone, uploadInUse } from './require-upload';

const input = z.object({
  uploadId: z.string().refine(isUploadId, 'This is no upload.'),
  description: descriptionInput,
});

/** A session.yaml that is on the disk, but not yet in its place beside the files. */
type WrittenFile = Readonly<{ part: string; target: string }>;

export const describeUpload = defineCommand({
  name: 'describe-upload',
  input,
  may: () => true,
  prepare: async (_, { uploadId, description }): Promise<WrittenFile> => {
    const sketch = await readUploadSketch(uploadId);
    if (sketch === null) throw uploadGone();
    const { sessionYaml, issues } = checkDescription(sketch, description);
    if (sessionYaml === null) {
      const [first] = issues;
      const isNamed = first?.file !== undefined && first.file !== SESSION_FILE;
      const file = isNamed ? `${first.file}: ` : '';
      const open = first?.message ?? 'something is open';
      throw new DomainError('description-open', `It is not complete: ${file}${open}.`);
    }
    await keepDoubts(uploadFolder(uploadId), issues).catch(refuseWhereGone);
    const part = path.join(uploadFolder(uploadId), `described-${newId()}.part`);
    await writeDurably(part, sessionYaml).catch(refuseWhereGone);
    crashPoint('describe:file-synced');
    return { part, target: path.join(describedFolder(uploadId, sketch.place), SESSION_FILE) };
  },
  discard: ({ part }) => rm(part, { force: true }),
  run: async (context, { uploadId }, written): Promise<Readonly<{ jobId: string }>> => {
    if (written === null) throw uploadGone();
    const text = toJson({ uploadId, described: true });
    const open = await openJobOf(context.tx, uploadId);
    if (open !== null) {
      // Described for a second time, as by a double click; its import may have read the first.
      if (open.input !== text) throw uploadInUse();
      context.afterCommit(() => rm(written.part, { force: true }));
      return { jobId: open.id };
    }
    await putInPlace(written);
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
    context.afterCommit(() => {
      crashPoint('describe:committed');
      wakeQueue();
    });
    return { jobId };
  },
});

/** While no job reads the upload: a reader finds the whole file or none. */
async function putInPlace({ part, target }: WrittenFile): Promise<void> {
  await rename(part, target).catch(refuseWhereGone);
  await syncToDisk(path.dirname(target)).catch(refuseWhereGone);
  crashPoint('describe:renamed');
}

function refuseWhereGone(error: unknown): never {
  if (isSystemError(error, ['ENOENT', 'ENOTDIR'])) throw uploadGone();
  if (!isSystemError(error, ['EISDIR', 'ENOTEMPTY', 'EEXIST'])) throw error;
  const message = `Among the files is a folder called ${SESSION_FILE}: send them without it.`;
  throw new DomainError('session-file-is-folder', message);
}
