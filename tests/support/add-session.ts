/** A session row with nothing in it, for tests that need somewhere to hang things. */
import { localActor } from '@/lib/server/actor';
import { db } from '@/lib/server/db';

/** @returns the id it was given */
export async function addSession(id: string): Promise<string> {
  await db().session.create({
    data: {
      id,
      teamId: localActor().teamId,
      title: `Session ${id}`,
      kind: 'flight',
      zeroTaiNs: 1_750_000_037_000_000_000n,
      zeroUtc: '2025-06-15T15:06:40Z',
      origin: 'import',
      folderSha256: id,
    },
  });
  return id;
}
