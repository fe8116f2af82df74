/** A recording of sound or picture is put beside a session; its file is taken from an upload. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { faultOfTies } from '@/lib/core/session/recording-words';
import { MEDIA_TYPES, mediaRefusal } from '@/lib/view/recordings/media-kind';
import { newId } from '../new-id';
import { isUploadInUse } from '../queries/load-job';
import { freeName } from '../recordings/free-name';
import {
  type PlacedRecording,
  placeRecording,
  readHead,
  removeRecordingFile,
} from '../recordings/recording-files';
import { isSystemError } from '../samples/durable-files';
import { isUploadId, receivedOf, removeUpload } from '../uploads/receive-file';
import { requireSession } from './anchor-input';
import { secondsInput } from './correction-input';
import { type CommandContext, defineCommand } from './define-command';
import { uploadGone, uploadInUse } from './require-upload';

/** Recording time is counted from the start of the recording. */
const tieInput = z.tuple([
  z.number('A time of the recording is needed.').min(0, 'A recording starts at 0.').max(1e7),
  secondsInput,
]);

export const tiesInput = z.array(tieInput).max(100, 'At most 100 tie points.');

const input = z.object({
  sessionId: z.string().min(1),
  uploadId: z.string().refine(isUploadId, 'This is no upload.'),
  /** Empty where it is not known yet when it ran. */
  ties: tiesInput,
});

type Prepared = PlacedRecording & Readonly<{ name: string; sha256: string }>;

export const attachRecording = defineCommand({
  name: 'attach-recording',
  input,
  may: () => true,
  detail: ({ uploadId }) => ({ upload: uploadId }),
  prepare: async (_request, { uploadId, ties }): Promise<Prepared> => {
    requireClock(ties);
    if (await isUploadInUse(uploadId)) throw uploadInUse();
    const received = await receivedOf(uploadId);
    if (received === null) throw uploadGone();
    const { file, name, sha256 } = received;
    const placed = await placeRecording(file, 'move').catch((error: unknown) => {
      // Forgotten, or taken by a second press of the same button, while it was looked at.
      if (isSystemError(error, ['ENOENT'])) throw uploadGone();
      throw error;
    });
    if (placed === null) {
      const message = mediaRefusal(name, await readHead(file));
      await removeUpload(uploadId);
      throw new DomainError('no-recording', message);
    }
    await removeUpload(uploadId);
    return { ...placed, name, sha256 };
  },
  discard: ({ folder }) => removeRecordingFile(folder),
  run: async (context, { sessionId, ties }, placed): Promise<Readonly<{ id: string }>> => {
    if (placed === null) throw uploadGone();
    await requireSession(context, sessionId);
    const id = await keepFileOf(context, sessionId, placed);
    if (ties.length > 0) await keepClock(context, { recordingId: id, ties, reason: '' });
    return { id };
  },
});

export function requireClock(ties: readonly (readonly [number, number])[]): void {
  const fault = faultOfTies(ties);
  if (fault !== null) throw new DomainError('no-clock', fault);
}

type Clock = Readonly<{
  recordingId: string;
  ties: readonly (readonly [number, number])[];
  reason: string;
}>;

/** A word about when a recording ran: from now on the one that counts. */
export async function keepClock(
  { tx, actor, now }: CommandContext,
  { recordingId, ties, reason }: Clock,
): Promise<void> {
  const sorted = [...ties].sort(([a], [b]) => a - b);
  await tx.recordingClock.create({
    data: {
      id: newId(),
      recordingId,
      ties: JSON.stringify(sorted),
      reason,
      author: actor.name,
      createdAt: now,
    },
    select: { id: true },
  });
}

/** A new row, or the one of a recording whose file was not here. */
async function keepFileOf(
  { tx, actor, now }: CommandContext,
  sessionId: string,
  { folder, kind, bytes, durationS, name, sha256 }: Prepared,
): Promise<string> {
  const select = { id: true, name: true, sha256: true, folder: true, removedAt: true } as const;
  const there = await tx.recording.findMany({ where: { sessionId }, select });
  const same = there.find((row) => row.sha256 === sha256 && row.removedAt === null);
  const file = { folder, durationS, mediaType: MEDIA_TYPES[kind], bytes: BigInt(bytes) };
  if (same !== undefined && same.folder !== '') {
    const message = `This very recording is attached already, as ${same.name}.`;
    throw new DomainError('attached-already', message);
  }
  if (same !== undefined) {
    const data = { ...file, version: { increment: 1 } };
    await tx.recording.update({ where: { id: same.id }, data, select: { id: true } });
    return same.id;
  }
  const id = newId();
  const own = freeName(name, new Set(there.map((row) => row.name)));
  const data = { id, sessionId, name: own, sha256, ...file, author: actor.name, createdAt: now };
  await tx.recording.create({ data, select: { id: true } });
  return id;
}
