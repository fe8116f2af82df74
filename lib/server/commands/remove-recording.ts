/** Takes a recording off a session; its file stays until somebody deletes it, so that it can be put back. */
import { z } from 'zod';
import { attachedRecording, type RecordingPlace } from '../recordings/attached-recording';
import { type CommandContext, defineCommand } from './define-command';

/** What all commands on a recording share. */
export const recordingPlace = {
  input: z.object({ id: z.string().min(1), version: z.int() }),
  may: () => true,
  version: attachedRecording,
};

type Change = Readonly<{ removedAt?: Date | null; removedBy?: string | null; folder?: string }>;

export async function changeRecording(
  { tx }: CommandContext,
  { id, version }: RecordingPlace,
  change: Change,
): Promise<RecordingPlace> {
  await tx.recording.update({
    where: { id },
    data: { ...change, version: version + 1 },
    select: { id: true },
  });
  return { id, version: version + 1 };
}

export const removeRecording = defineCommand({
  name: 'remove-recording',
  ...recordingPlace,
  run: (context, recording): Promise<RecordingPlace> =>
    changeRecording(context, recording, { removedAt: context.now, removedBy: context.actor.name }),
});
