/** Recordings of sound and picture beside a session. */
import { cache } from 'react';
import type { Recording } from '@/lib/core/session/recording';
import { localActor } from '../actor';
import { db } from '../db';
import { RECORDING_COLUMNS, recordingFromRow } from '../recordings/recording-row';

/** All of a session in the order in which they were attached, removed ones among them. */
export const loadRecordings = cache(async (sessionId: string): Promise<readonly Recording[]> => {
  const rows = await db().recording.findMany({
    where: { sessionId, session: { teamId: localActor().teamId } },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    select: RECORDING_COLUMNS,
  });
  return rows.map(recordingFromRow);
});

/** One that is to be played: its file, kind and hash; null where it is not there or was removed. */
export async function loadPlayedRecording(
  sessionId: string,
  id: string,
): Promise<Readonly<{
  folder: string;
  mediaType: string;
  sha256: string;
  bytes: number;
}> | null> {
  const row = await db().recording.findFirst({
    where: { id, sessionId, removedAt: null, session: { teamId: localActor().teamId } },
    select: { folder: true, mediaType: true, sha256: true, bytes: true },
  });
  return row === null || row.folder === '' ? null : { ...row, bytes: Number(row.bytes) };
}
