/** A better version of one file of a session: hands the upload over; nothing changes before it is read. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { OPEN_STATES } from '../jobs/cancel-work';
import { wakeQueue } from '../jobs/queue';
import { newId } from '../new-id';
import { sourceSpecFromJson, toJson } from '../rows';
import { safeRelativePath } from '../safe-path';
import { isUploadId } from '../uploads/receive-file';
import { type CommandContext, defineCommand } from './define-command';
import { requireUpload } from './require-upload';
import { sessionVersion } from './session-version';

const input = z.object({
  sessionId: z.string().min(1),
  version: z.number().int(),
  /** Name of the file in the session's folder. */
  file: z.string().min(1).max(400),
  uploadId: z.string().refine(isUploadId, 'This is no upload.'),
});

type Replaced = z.infer<typeof input>;

/** Refuses a name that stands for several files, and one that leads out of the folder. */
async function requireOneFile(
  { tx }: CommandContext,
  { sessionId, file }: Replaced,
): Promise<void> {
  const where = { sessionId, file, superseded: null };
  const source = await tx.sourceVersion.findFirst({ where, select: { declared: true } });
  const spec = source === null ? null : sourceSpecFromJson(source.declared);
  if (spec?.type === 'telemetry' && (spec.files.length > 1 || /[*?]/.test(file))) {
    const message = `${file} stands for several files: replace the better ones one by one, at the foot of this page.`;
    throw new DomainError('several-files', message);
  }
  if (safeRelativePath(file) === null) {
    throw new DomainError('unsafe-name', 'This is no name of a file inside the session folder.');
  }
}

export const replaceFile = defineCommand({
  name: 'replace-file',
  input,
  may: () => true,
  version: sessionVersion,
  run: async (context, replaced): Promise<Readonly<{ jobId: string }>> => {
    const { sessionId, file, uploadId } = replaced;
    const { teamId } = context.actor;
    await requireOneFile(context, replaced);
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
