/** Deletes the file of a recording that was taken off, for good; what was said of it stays on record. */
import { DomainError } from '@/lib/core/result';
import type { RecordingPlace } from '../recordings/attached-recording';
import { removeRecordingFile } from '../recordings/recording-files';
import { defineCommand } from './define-command';
import { changeRecording, recordingPlace } from './remove-recording';

export const deleteRecordingFile = defineCommand({
  name: 'delete-recording-file',
  ...recordingPlace,
  run: async (context, recording): Promise<RecordingPlace> => {
    const where = { id: recording.id };
    const select = { folder: true, removedAt: true } as const;
    const { folder, removedAt } = await context.tx.recording.findUniqueOrThrow({ where, select });
    if (removedAt === null)
      throw new DomainError('still-attached', 'It is attached: take it off first.');
    context.afterCommit(() => removeRecordingFile(folder));
    return changeRecording(context, recording, { folder: '' });
  },
});
