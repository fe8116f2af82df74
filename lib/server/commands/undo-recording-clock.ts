/** Takes a word about the clock of a recording back: the newest that stands counts then. */
import { z } from 'zod';
import { DomainError } from '@/lib/core/result';
import { type CommandContext, defineCommand, type VersionCheck } from './define-command';

const input = z.object({ id: z.string().min(1), version: z.int() });
type ClockPlace = z.infer<typeof input>;

const version: VersionCheck<ClockPlace> = {
  expected: (clock) => clock.version,
  load: async ({ tx, actor }, { id }) => {
    const row = await tx.recordingClock.findFirst({
      where: { id, recording: { session: { teamId: actor.teamId } } },
      select: { version: true, undoneBy: true },
    });
    return row === null ? null : { version: row.version, value: { undoneBy: row.undoneBy } };
  },
};

/** What undoing and putting back share. */
export const clockPlace = { input, may: () => true, version };

/** @param undone null puts it back */
export async function setClockUndone(
  { tx }: CommandContext,
  { id, version }: ClockPlace,
  undone: Readonly<{ at: Date; by: string }> | null,
): Promise<ClockPlace> {
  const before = await tx.recordingClock.findUniqueOrThrow({
    where: { id },
    select: { undoneAt: true, recordingId: true },
  });
  if ((before.undoneAt !== null) === (undone !== null)) {
    const message = undone === null ? 'It counts already.' : 'It is undone already.';
    throw new DomainError('done-already', message);
  }
  const data = {
    undoneAt: undone?.at ?? null,
    undoneBy: undone?.by ?? null,
    version: version + 1,
  };
  await tx.recordingClock.update({ where: { id }, data, select: { id: true } });
  await tx.recording.update({
    where: { id: before.recordingId },
    data: { version: { increment: 1 } },
    select: { id: true },
  });
  return { id, version: version + 1 };
}

export const undoRecordingClock = defineCommand({
  name: 'undo-recording-clock',
  ...clockPlace,
  run: (context, clock): Promise<ClockPlace> =>
    setClockUndone(context, clock, { at: context.now, by: context.actor.name }),
});
