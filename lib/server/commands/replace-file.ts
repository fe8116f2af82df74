/** A better version of one file of a session: hands the upload over; nothing changes before it is read. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { OPEN_STATES } from '../jobs/cancel-work';
import { wakeQueue } from '../jobs/queue';
import { newId } from '../new-id';
import { toJson } from '../rows';
import { isUploadId } from '../uploads/receive-file';
import { defineCommand } from './define-command';
import { requireUpload } from './require-upload';

const input = z.object({
  sessionId: z.string().min(1),
  version: z.number().int(),
  /** Name of the file in the session's folder. */
  file: z.string().min(1).max(400),
  uploadId: z.string().refine(isUploadId, 'This is no upload.'),
});

export const replaceFile = defineCommand({
  name: 'replace-file',
  input,
  may: () => true,
  version: {
    expected: ({ version }) => version,
    load: async ({ tx, actor }, { sessionId }) => {
      const where = { id: sessionId, teamId: actor.teamId };
      const row = await tx.session.findFirst({ where, select: { version: true, title: true } });
      return row === null ? null : { version: row.version, value: { title: row.title } };
    },
  },
  run: async (context, { sessionId, file, uploadId }): Promise<Readonly<{ jobId: string }>> => {
    const { teamId } = context.actor;
    const open = await context.tx.job.findFirst({
      where: { sessionId, kind: 'replace', state: { in: OPEN_STATES } },
      select: { id: true },
    });
    if (open !== null) {
      const message =
        'A file of this session is being replaced already: wait until that has ended.';
      throw new DomainError('replacing-already', message);
    }
    const bytesTotal = await requireUpload(context.tx, uploadId);
    const jobId = newId();
    await context.tx.job.create({
      data: {
        id: jobId,
        teamId,
        sessionId,
        kind: 'replace',
        state: 'waiting',
        stage: 'Waiting for its turn',
        bytesTotal,
        input: toJson({ sessionId, file, uploadId }),
        createdAt: context.now,
      },
      select: { id: true },
    });
    context.afterCommit(wakeQueue);
    return { jobId };
  },
});
