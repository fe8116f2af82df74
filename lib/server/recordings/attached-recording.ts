/** A recording by its id, at the version that was seen. */
import type { CommandContext, VersionedRow } from '../commands/define-command';

export type RecordingPlace = Readonly<{ id: string; version: number }>;

/** The version check that all commands on a recording share. */
export const attachedRecording = {
  expected: ({ version }: RecordingPlace) => version,
  load: async (
    { tx, actor }: CommandContext,
    { id }: RecordingPlace,
  ): Promise<VersionedRow | null> => {
    const where = { id, session: { teamId: actor.teamId } };
    const row = await tx.recording.findFirst({ where, select: { version: true, name: true } });
    return row === null ? null : { version: row.version, value: { name: row.name } };
  },
};
