/** Puts a recording back that was taken off. */
import { DomainError } from '@/lib/core/result';
import type { RecordingPlace } from '../recordings/attached-recording';
import { defineCommand } from './define-command';
import { changeRecording, recordingPlace } from './remove-recording';

export const restoreRecording = defineCommand({
  name: 'restore-recording',
  ...recordingPlace,
  run: async (context, recording): Promise<RecordingPlace> => {
    const where = { id: recording.id };
    const select = { sessionId: true, sha256: true } as const;
    const { sessionId, sha256 } = await context.tx.recording.findUniqueOrThrow({ where, select });
    const again = { sessionId, sha256, removedAt: null, id: { not: recording.id } };
    if ((await context.tx.recording.count({ where: again })) > 0)
      throw new DomainError('attached-already', 'It was attached anew meanwhile.');
    return changeRecording(context, recording, { removedAt: null, removedBy: null });
  },
});
