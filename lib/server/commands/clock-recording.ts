/** When a recording ran: a start or tie points, by a person. The words before stay on record. */
import { z } from 'zod';
import { attachedRecording, type RecordingPlace } from '../recordings/attached-recording';
import { keepClock, requireClock, tiesInput } from './attach-recording';
import { defineCommand } from './define-command';

export const clockRecording = defineCommand({
  name: 'clock-recording',
  input: z.object({
    id: z.string().min(1),
    version: z.int(),
    ties: tiesInput.min(1, 'A tie point is needed.'),
    reason: z.string().trim().max(2_000, 'At most 2000 letters.'),
  }),
  may: () => true,
  version: attachedRecording,
  run: async (context, { id, ties, reason }): Promise<RecordingPlace> => {
    requireClock(ties);
    await keepClock(context, { recordingId: id, ties, reason });
    const data = { version: { increment: 1 } };
    const where = { id };
    return context.tx.recording.update({ where, data, select: { id: true, version: true } });
  },
});
